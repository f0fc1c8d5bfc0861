"""The README's pictures, made from the real program: `python tests/pictures.py` makes them anew.

Each runs `darby` as a terminal of that width would, and draws what it printed. The page is drawn by Chromium.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from io import StringIO
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from checkout import ROOT

FOLDER = ROOT / "fixtures" / "pictures"

TERMINAL: Mapping[str, tuple[int, Sequence[str], int]] = {
    "demo-60.svg": (60, ("demo",), 60),
    "demo-80.svg": (80, ("demo",), 48),
    "demo-120.svg": (120, ("demo",), 34),
    "explain-60.svg": (60, ("explain", "demo", "clip"), 60),
    "explain-80.svg": (80, ("explain", "demo", "clip"), 60),
    "explain-120.svg": (120, ("explain", "demo", "clip"), 60),
    "compare-60.svg": (60, ("compare", "saved.json", "ferry/job.toml"), 60),
    "compare-80.svg": (80, ("compare", "saved.json", "ferry/job.toml"), 60),
    "compare-120.svg": (120, ("compare", "saved.json", "ferry/job.toml"), 60),
}
"""Width, command and the lines shown from the top."""

PAGE = "page.png"

DESK: Mapping[str, tuple[int, str]] = {
    f"desk-{width}-{scheme}.png": (width, scheme) for width in (1280, 390) for scheme in ("light", "dark")
}
"""The desk over the same job: its width and colours."""

THEME = TerminalTheme(
    (250, 248, 244),
    (38, 36, 31),
    [
        (38, 36, 31),
        (156, 47, 31),
        (29, 92, 85),
        (138, 82, 0),
        (40, 70, 120),
        (110, 60, 110),
        (29, 92, 85),
        (98, 93, 83),
    ],
    [
        (98, 93, 83),
        (156, 47, 31),
        (29, 92, 85),
        (138, 82, 0),
        (40, 70, 120),
        (110, 60, 110),
        (29, 92, 85),
        (38, 36, 31),
    ],
)

FRAME = """<svg class="rich-terminal" viewBox="0 0 {width} {height}" xmlns="http://www.w3.org/2000/svg">
<style>
.{unique_id}-matrix {{ font-family: ui-monospace, "DejaVu Sans Mono", Menlo, Consolas, monospace; font-size: {char_height}px; line-height: {line_height}px; }}
{styles}
</style>
<defs><clipPath id="{unique_id}-clip-terminal"><rect x="0" y="0" width="{terminal_width}" height="{terminal_height}"/></clipPath>
{lines}
</defs>
<rect x="0.5" y="0.5" width="{width}" height="{height}" rx="4" fill="#faf8f4" stroke="#ddd7cb"/>
<g transform="translate({terminal_x}, {terminal_y})" clip-path="url(#{unique_id}-clip-terminal)">
{backgrounds}
<g class="{unique_id}-matrix">
{matrix}
</g>
</g>
</svg>
"""
"""A plain frame that asks for no font from outside."""


def printed(width: int, command: Sequence[str], cwd: Path) -> str:
    """What the program prints on a colour terminal of that width."""
    environment = {k: v for k, v in os.environ.items() if k not in {"NO_COLOR", "COLUMNS"}}
    environment |= {"FORCE_COLOR": "1", "TERM": "xterm-256color", "COLUMNS": str(width)}
    darby = Path(sys.executable).with_name("darby")
    done = subprocess.run(
        (sys.executable, str(darby), *command), cwd=cwd, env=environment, capture_output=True, text=True, encoding="utf-8",
        stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip
    assert done.returncode in {0, 1}, done.stderr
    return done.stdout


def drawn(width: int, command: Sequence[str], lines: int, cwd: Path) -> str:
    """The picture: the command and the first lines of what it prints."""
    text = printed(width, command, cwd).splitlines()
    console = Console(
        file=StringIO(), record=True, width=width, force_terminal=True, color_system="truecolor", highlight=False
    )
    console.print(Text(f"$ darby {' '.join(command)}", style="dim"))
    for line in text[:lines]:
        console.print(Text.from_ansi(line), no_wrap=True, overflow="crop")
    if len(text) > lines:
        console.print(Text("...", style="dim"))
    return console.export_svg(title="", theme=THEME, code_format=FRAME, unique_id="t")


def prepared(folder: Path) -> None:
    """The demo saved, then changed as its readers might: another rate in the specification, a longer wall."""
    for command in (
        ("demo", "--to", "ferry"),
        ("estimate", "ferry/job.toml", "--save", "saved.json", "--out", "x.txt"),
    ):
        printed(100, command, folder)
    job = folder / "ferry" / "job.toml"
    job.write_text(job.read_text(encoding="utf-8").replace('"12 ft"', '"16 ft"', 1), encoding="utf-8")
    paint = folder / "ferry" / "09-91-23-interior-painting.txt"
    old = paint.read_text(encoding="utf-8")
    paint.write_text(old.replace("300 sq ft per gallon", "240 sq ft per gallon"), encoding="utf-8")


def page_drawn(folder: Path) -> bytes:
    """The page with one line open, as Chromium draws it."""
    from playwright.sync_api import sync_playwright

    from real_readers import CHROMIUM, program

    printed(100, ("demo", "--out", "page.html"), folder)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program(CHROMIUM, "Chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 1280, "height": 800}, reduced_motion="reduce", color_scheme="light")
        page.goto((folder / "page.html").as_uri())
        line = page.locator(".items > li:has(.what b:text-is('primer'))")
        line.locator("summary").click()
        page.evaluate("document.querySelector('.items > li:has(details[open])').scrollIntoView()")
        page.evaluate("scrollBy(0, -60)")
        line.locator("a.num", has_text="300 sq ft per gal").last.hover()
        shot = page.screenshot()
        browser.close()
    return shot


def desk_drawn(folder: Path) -> Iterator[tuple[str, bytes]]:
    """The desk with one mark chosen and the line that comes from it open, as Chromium draws it."""
    from playwright.sync_api import sync_playwright

    from real_readers import CHROMIUM, program

    darby = Path(sys.executable).with_name("darby")
    command = [sys.executable, str(darby), "desk", str(folder / "ferry"), "--no-browser"]
    with subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True) as running, sync_playwright() as playwright:  # fmt: skip
        assert running.stdout is not None
        address = running.stdout.readline().split()[-1]
        browser = playwright.chromium.launch(executable_path=program(CHROMIUM, "Chromium"), args=["--no-sandbox"])
        page = browser.new_page(reduced_motion="reduce")
        page.goto(address)
        for file, (width, scheme) in DESK.items():
            page.set_viewport_size({"width": width, "height": 800})
            page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
            page.goto(f"{address.partition('?')[0]}?document=09-91-23-interior-painting.txt&table=walls")
            if width < 768:  # one part is shown at a time
                page.click(".jump a[data-part=documents]")
            mark = page.locator("#reading .m.used", has_text="sq ft per gallon").first
            mark.scroll_into_view_if_needed()
            mark.click()
            yield file, page.screenshot()
        browser.close()
        running.send_signal(signal.SIGINT)


def main() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        prepared(folder)
        for file, (width, command, lines) in TERMINAL.items():
            (FOLDER / file).write_text(drawn(width, command, lines, folder), encoding="utf-8")
        (FOLDER / PAGE).write_bytes(page_drawn(folder))
        for file, picture in desk_drawn(folder):
            (FOLDER / file).write_bytes(picture)


if __name__ == "__main__":
    main()
