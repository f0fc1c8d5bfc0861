"""The files of a job: read, and changed so that everything else in them stays as it was."""
