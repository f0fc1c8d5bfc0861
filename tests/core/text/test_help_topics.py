"""Every topic is a page that reads as it is printed."""

from __future__ import annotations

import re

import pytest

from darby.text.help_topics import TOPICS, Topic


@pytest.mark.parametrize("name", TOPICS)
def test_a_topic_has_a_title_and_lines_that_a_terminal_shows(name: str) -> None:
    page = str(TOPICS[name])
    assert page.startswith(TOPICS[name].title)
    assert "```" not in page
    assert not re.search(r"^\||\*\*|^#|!\[", page, re.MULTILINE)
    assert max(len(line) for line in page.splitlines() if not line.startswith("    ")) <= 78


@pytest.mark.parametrize("name", TOPICS)
def test_no_word_of_a_topic_is_lost_on_the_way(name: str) -> None:
    page = TOPICS[name]
    plain = re.sub(r"^```\w*$|^## |\*\*", "", page.text, flags=re.MULTILINE)
    assert str(page).split() == [*page.title.split(), *plain.split()]


def test_what_is_shown_stands_as_it_was_written() -> None:
    page = Topic.of(
        "# Head\n\nSome\nwords:\n\n- one\n  more\n- two\n\n## Below\n\n```toml\na  =  1  # b\n\nc = 2\n```\n\nEnd.\n"
    )
    assert str(page) == "Head\n\nSome words:\n\n- one more\n- two\n\nBelow\n\n    a  =  1  # b\n\n    c = 2\n\nEnd."


@pytest.mark.parametrize("text", ["", "No heading.\n\nText.", "# A heading alone\n"])
def test_what_is_no_page_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="a topic is a heading"):
        Topic.of(text)
