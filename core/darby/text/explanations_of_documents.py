"""Pages of the codes that speak of documents: files, what was read in them, and addenda."""

from __future__ import annotations

from darby.text.explanation import Page

_FILES = {
    "file-missing": Page(
        "A file is not there",
        "A file was named, on the command line or in a job file, and there is no file of that name. Names in a job file "
        "are looked up beside the job file, wherever you stand.",
        "Check the spelling; the nearest name in the folder is suggested where there is one.",
        '[documents]\nspecification = ["section.txt"]    # beside this job file',
    ),
    "file-is-folder": Page(
        "A folder was named where a file is wanted",
        "One text file at a time can be read, and a folder holds many.",
        "Name the file in it. Several files may be named one behind the other.",
        "darby read specs/section-1.txt specs/section-2.txt",
    ),
    "file-unreadable": Page(
        "A file cannot be opened",
        "The file is there, but the system does not let it be read: it may be locked by another program, belong to somebody "
        "else, or be no file but a device.",
        "Close the program that holds it, or copy it to a folder of your own and name the copy.",
    ),
    "file-binary": Page(
        "A file is not plain text",
        "Text, Markdown, HTML, .docx and PDF files are read; pictures, archives and old office files are not.",
        "Open it in its own program, save it as plain text (UTF-8) and name that file. Or copy the section and paste it in.",
        "darby read -      # then paste the text and end it with Ctrl-D",
    ),
    "library-missing": Page(
        "A library for this kind of file is not installed",
        "Darby reads .docx files with python-docx and PDFs with pypdf. Both are extras, and the one for this file is not there.",
        "Install the extra, or copy the text out of the file and paste it in.",
        "pip install 'darby[docx,pdf]'\ndarby read -      # then paste the text and end it with Ctrl-D",
    ),
    "file-no-text": Page(
        "No text can be taken out of a file",
        "The file is damaged or locked with a password, or its pages are pictures, as a scanner makes them.",
        "Open it in its own program and save it anew, without a password, or as plain text (UTF-8). A scan has to go through "
        "text recognition first; look its numbers over, since that is where it errs.",
    ),
    "text-left-out": Page(
        "Not all of a file was taken as text",
        "A page without text, tracked changes, hidden text or footnotes were met. What was left out was not read, and a "
        "tracked change was read as accepted.",
        "Look at the file itself, to see that nothing you need is missing.",
    ),
    "file-empty": Page(
        "A file is empty",
        "There is nothing in the file but, at most, spaces and line ends.",
        "Check that it was saved, and that it is the file you mean.",
    ),
    "encoding-guessed": Page(
        "A file was read in an older encoding",
        "The file is not UTF-8. It was read as Windows-1252, the usual encoding of older Windows files, and the result "
        "looks like text. Fractions, degree signs and quotation marks are what goes wrong where that guess is wrong.",
        "Look at those signs in the output. Saving the file as UTF-8 makes sure.",
    ),
    "encoding-unknown": Page(
        "A file's encoding is not known",
        "The bytes of the file are neither UTF-8 nor any other encoding that gives readable text.",
        "Open it in an editor that shows it rightly and save it as UTF-8.",
    ),
}

_READING = {
    "line-not-understood": Page(
        "A line that has to be understood is not",
        "Default lines, house lines and the lines of a job file are your own words, so every number in them has to be "
        "understood; nothing in them is passed over. A specification is read more freely.",
        "Say it in one plain sentence: the thing, a colon, the amount with its unit, and what it is for. Put remarks into a "
        "comment or into square brackets at the end.",
        "Joint filler: 14 lb per 100 sq ft.    [our last ten jobs]\nCeilings: two coats.",
    ),
    "unclear": Page(
        "A place can be read in more than one way",
        "A number was found, and what it says could not be decided: its product is not named, two readings are open, or its "
        "sign is damaged. Nothing is guessed, so it made no rule.",
        "Ask whoever wrote it. When you know, say it in plain words as a line under rules in the job file.",
        'rules = ["Ceilings: two coats."]',
    ),
}

_ADDENDA = {
    "amended": Page(
        "An addendum was carried out",
        "An addendum names a paragraph of the specification and deletes it, gives it a new text, or changes a number in it. The "
        "paragraph was found by its section number and its labels, and that was done.",
        "Nothing, if it is what the addendum means. The message names the rules that are gone or changed, and where they stood.",
        "Section 09 29 00, paragraph 3.02.C: change 12 to 8.\nSection 09 29 00, delete paragraph 3.02.D.",
    ),
    "amend-nothing": Page(
        "An addendum speaks of what is not there",
        "The paragraph that the addendum names, or the number in it, was not found in the specification as it was read, or the "
        "new number cannot stand there. Nothing was changed.",
        "Look both places up; the addendum may have the wrong number, or the paragraph was not read. When you know what is "
        "meant, say it in plain words as a line under rules in the job file.",
        'rules = ["Ceilings: two coats."]',
    ),
    "amend-several": Page(
        "An addendum may mean more than one thing",
        "The number or the paragraph that the addendum names is there more than once, and nothing in its words tells which one "
        "is meant. Nothing was changed.",
        "Ask whoever wrote it. When you know, say it in plain words as a line under rules in the job file.",
        'rules = ["Ceilings: two coats."]',
    ),
}

PAPERS: dict[str, Page] = _FILES | _READING | _ADDENDA
