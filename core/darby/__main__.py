"""`python -m darby` does what `darby` does."""

from darby.cli import main

if __name__ == "__main__":
    main()
