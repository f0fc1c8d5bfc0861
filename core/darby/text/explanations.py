"""The page behind each diagnostic code: what it means, how to mend it, how it looks. Shown by `darby why CODE`."""

from __future__ import annotations

from darby.text.explanation import Page
from darby.text.explanations_of_documents import PAPERS

_JOB = {
    "job-syntax": Page(
        "The job file is not written as TOML",
        "A line of the job file breaks the rules of its format: a quotation mark or bracket is missing, a name is given twice, "
        "or a measure stands without quotation marks.",
        "Look at the place shown and compare it with a line that works. A length with an inch mark stands in single quotation "
        "marks, or its inch mark has a backslash.",
        "height = '9 ft 6 in'\nheight = \"9'-6\\\"\"",
    ),
    "job-unknown-key": Page(
        "A key has no place here",
        "The job file says something that is not known at this spot. So that nothing is overlooked, this is an error and not "
        "left aside.",
        "Take the suggested spelling, or remove the line. A trade may add keys of its own; they are known only while its "
        "plugin is there.",
        '[[walls]]\nlenght = "24 ft"      # length is meant',
    ),
    "job-unknown-table": Page(
        "A table has no place here",
        "The job file has a table whose name is not known.",
        "Take the suggested spelling. The tables are walls, ceilings, soffits, columns, rooms, corners, trim, doors, openings, "
        "prices and documents.",
        "[[wals]]      # walls is meant",
    ),
    "job-missing-key": Page(
        "Something has to be said and is not",
        "A wall, ceiling, opening, corner or room lacks a part of what is measured of it, and no value is ever guessed.",
        "Add the key that the message names.",
        '[[walls]]\nname = "north wall"\nlength = "24 ft"\nheight = "8 ft"\nfaces = 1',
    ),
    "job-schedule": Page(
        "A row of a schedule cannot be taken",
        "A schedule is a table that a spreadsheet saved as CSV: its first line names the columns as the job file names its keys, "
        "and each further line is one room, wall, ceiling or opening. A column what may say which.",
        "Fill in the cells that the message names, or add a column what.",
        "what,name,length,width,height\nroom,Office,12 ft,10 ft,8 ft",
    ),
    "job-schedule-unopened": Page(
        "A schedule of the job was not opened",
        "The job was read without the files that lie beside it, so what its schedule measures would be missing.",
        "Put the rows of the schedule into the job file itself.",
        '[[rooms]]\nname = "Office"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "8 ft"',
    ),
    "job-wrong-type": Page(
        "A value is of the wrong sort",
        "Text stands in quotation marks, whole numbers stand without, lists stand in square brackets, and what may come "
        "several times has its name in two brackets.",
        "Write it as the message shows.",
        'length = "24 ft"\nfaces = 2\n[[walls]]',
    ),
    "job-no-unit": Page(
        "A measure has no unit",
        "A bare number may be feet, inches or metres; none is assumed.",
        "Put the unit behind it, all in quotation marks.",
        'height = "8 ft"',
    ),
    "job-unreadable-amount": Page(
        "A measure cannot be read",
        "What stands there is no number with a unit in any usual spelling.",
        "Write a number and its unit; feet and inches may be joined.",
        'length = "12 ft 6 in"\nlength = "12\'-6"\nlength = "3.81 m"',
    ),
    "job-wrong-unit": Page(
        "A measure has the wrong kind of unit",
        "An area stands where a length is wanted, or the other way round.",
        "Give the length in a unit of length and the area in a unit of area.",
        'length = "24 ft"\narea = "192 sq ft"',
    ),
    "job-out-of-range": Page(
        "A number is out of range",
        "Lengths and areas are above zero, counts are whole numbers from one, and there is an upper limit far above any "
        "building, so that a slip of the keyboard is caught.",
        "Correct the number; leave out altogether what is not there.",
    ),
    "job-faces": Page(
        "A wall has one face or two",
        "Faces are the sides of a wall that are finished: an outside wall has one inside, a partition has two.",
        "Write faces = 1 or faces = 2, without quotation marks.",
    ),
    "job-units": Page(
        "The units of a job are us or metric",
        "The units say how amounts are printed and whose default lines hold. Measures and specifications may be in either, "
        "whatever they are.",
        'Write units = "us" or units = "metric".',
    ),
    "job-units-assumed": Page(
        "The job does not say its units",
        "Nothing was said, so US units are used for printing, and the default lines in US units hold.",
        'Write units = "us" or units = "metric" below the name.',
    ),
    "job-nothing-measured": Page(
        "Nothing is measured",
        "The job file has no wall, no ceiling, no room and no corner, so there is nothing to order.",
        "Give what was measured.",
        '[[rooms]]\nname = "office"\nlength = "12 ft"\nwidth = "10 ft"\nheight = "8 ft"',
    ),
    "job-duplicate-name": Page(
        "A name is used twice",
        "Openings say by its name what they are in, so each wall, ceiling and room needs a name of its own. A room takes the "
        "names of its walls and ceiling along: office gives office wall 1 to office wall 4 and office ceiling.",
        "Rename one of the two places shown.",
    ),
    "job-area-and-sides": Page(
        "Area and sides are both given",
        "Where the area stands beside length and height, the two may contradict each other, and none is preferred.",
        "Keep the sides, or keep the area alone.",
    ),
    "job-corner-kind": Page(
        "A corner is inside or outside",
        "An inside corner is one you can stand in; an outside corner is one you can bump into.",
        'Write kind = "inside" or kind = "outside".',
    ),
    "job-opening-nowhere": Page(
        "An opening is in no known wall",
        "The wall that the opening names is not in the job file.",
        "Take the suggested name, or add the wall. The name of a room will do: the opening then goes into one of its walls.",
        '[[openings]]\nname = "door"\nwall = "north wall"\nwidth = "3 ft"\nheight = "7 ft"',
    ),
    "job-opening-too-large": Page(
        "An opening does not fit",
        "It is wider or taller than its wall, or all openings of the wall together are larger than the wall.",
        "Compare its width, height and count with the wall; often two numbers have changed places.",
    ),
}

_PLUGINS = {
    "plugin-unknown": Page(
        "There is no plugin of that name",
        "--only, --without or DARBY_PLUGINS names a plugin that is not installed.",
        "`darby trades` shows which plugins bring trades; take a name from there.",
        "darby estimate job.toml --without coatings",
    ),
    "plugin-broken": Page(
        "A plugin does not work",
        "It could not be loaded, raised an error or returned what cannot be used. Its own lines are missing, and the estimate "
        "is marked incomplete; everything else stands.",
        "Tell its author what the message says. To work without it, name it behind --without.",
    ),
    "plugin-api": Page(
        "A plugin is written for another version",
        "Each plugin states the version of the hooks it is written for, as DARBY_API. This one states another, or none.",
        "Install a version of the plugin that fits. Its author adds the line, or brings the plugin up to date.",
        "DARBY_API = 1",
    ),
    "plugin-hook": Page(
        "A plugin has a hook that is never called",
        "A function of the plugin looks like a hook, but its name is not one of the hooks, or it is not marked as one. It "
        "would be passed over in silence.",
        "Its author takes the suggested name, or marks the function.",
        "from darby.plugin_host.hooks import hookimpl\n\n@hookimpl\ndef darby_trades():\n    return [TRADE]",
    ),
    "plugin-twice": Page(
        "Two plugins have one name",
        "Plugins are told apart by their names, so the second of the two is left out.",
        "Uninstall one of them, or ask its author for another name.",
    ),
    "name-twice": Page(
        "Two plugins bring something of one name",
        "Two readers or two document formats have one name; the first, by name of its plugin, is used.",
        "Leave one of the plugins out with --without, or ask its author for another name.",
    ),
    "trade-twice": Page(
        "Two plugins bring or replace one trade",
        "Only one of them can, or its goods would be ordered twice. The first, by name, is used.",
        "Leave one of the plugins out with --without. A trade that is to take another's place says so.",
        'Trade(name="our_floors", replaces="floors", ...)',
    ),
    "trade-replaced": Page(
        "A trade takes the place of another",
        "A plugin says that its trade replaces one that is there; the other's lines are left out.",
        "Nothing, if that is what you installed it for. Else leave it out with --without.",
    ),
    "trade-name": Page(
        "A new trade cannot have that name",
        "`darby new-trade` names the trade, its package and what it orders alike, so the name has to be free as a plugin, as a "
        "Python module and as a word of specifications.",
        "Name it by what it orders, in small letters, words joined by a hyphen.",
        "darby new-trade roof-felt",
    ),
    "folder-taken": Page(
        "A folder cannot be written to",
        "The folder is there already, or the system does not let it be made. Nothing is ever written over.",
        "Name another folder with --to, or move away what is there.",
    ),
    "plugin-file-run": Page(
        "A plugin file of the job was run",
        "The job names a Python file as a plugin, and --run-plugins allowed it. What it brings counts in this estimate; its "
        "version is the start of the file's SHA-256, so that a change of the file shows.",
        "Nothing. To work without it, name it behind --without, or leave --run-plugins away.",
        '[plugins]\nfiles = ["our_trade.py"]',
    ),
    "word-twice": Page(
        "Two plugins claim one word",
        "A word can mean one thing only. It stays with Darby's own plugins, then with whichever comes first by name. A trade "
        "that replaces another takes that one's words along.",
        "Its author takes a longer phrase: the longest phrase that fits decides.",
    ),
    "word-taken": Page(
        "A plugin reads a place in its own way",
        "In the words of a plugin, a place of the document is about its goods, and without the plugin it would be read "
        "otherwise. A plugin may do that for its own goods only; one that makes anything else unsaid takes no part in reading.",
        "See whether the plugin is right. If it is not, leave it out with --without.",
    ),
    "kind-twice": Page(
        "Two plugins define one kind of rule",
        "A kind says what a rule measures and which way more is bought, so two definitions of it cannot stand side by side. The "
        "first stays: Darby's own, then by name of the plugin.",
        "Its author leaves the kind out of the reader's kinds, or gives it a name of its own.",
    ),
    "mark-twice": Page(
        "Two plugins read one key of a surface",
        "A trade may read keys of its own on the surfaces of a job. Two trades read this one; it stays with the first.",
        "Its author takes another key.",
    ),
    "replaces-nothing": Page(
        "A trade replaces one that is not there",
        "A plugin says that its trade replaces another, and there is none of that name. Nothing is left out.",
        "Its author corrects the name. If the other trade is left out by --without, this can be passed over.",
    ),
}

_ESTIMATE = {
    "nothing-read": Page(
        "A document says nothing for these trades",
        "The document was read to its end, and no line of it is about anything these trades order. It may be another section "
        "than you meant, or its wording may not be known.",
        "`darby read FILE --explain` shows what became of each of its numbers. What it says can be put into the job file in "
        "plain words, as a line under rules.",
        'rules = ["Ceilings: two coats."]',
    ),
    "rule-unused": Page(
        "A line was read, and no trade used it",
        "The line was understood, but nothing in this job depends on it: it speaks of goods, rooms or surfaces that are not "
        "in the job, or the trade it is meant for is not loaded.",
        "Nothing, if this job has none of it. Else check how the job or the line calls the thing.",
    ),
    "trade-failed": Page(
        "A trade failed",
        "The part of the program that works out one trade raised an error, gave nonsense or did not stop. Its lines are "
        "missing, the estimate is marked incomplete (exit code 3), and the lines of all other trades stand.",
        "Tell the author of the plugin what the message says. To do without the trade, name its plugin behind --without.",
    ),
    "document-failed": Page(
        "A document could not be made",
        "The plugin that brings this format raised an error, or gave something that is neither text nor bytes. Nothing is wrong "
        "with the estimate.",
        "Take another format, and tell the author of the plugin what the message says.",
        "darby estimate job.toml --format json",
    ),
    "no-defaults": Page(
        "A trade has no default lines for these units",
        "The trade brings default lines for the other unit system only, so what the documents leave open stays open and is "
        "asked about.",
        "State what it needs in a house file, in plain lines.",
        '[documents]\nhouse = ["house.txt"]',
    ),
    "item-twice": Page(
        "Two trades order the same thing",
        "Two trades gave a line with the same name. So that nothing is ordered twice, the first is kept.",
        "Leave one of the trades out with --without, or tell the author of the plugin that came later.",
    ),
    "job-plugins-not-run": Page(
        "The job names plugin files that were not run",
        "A job file may name plugin files of its own. They are programs, so they are never run unasked, and without them the "
        "estimate would lack what they add.",
        "If you know and trust the files, add --run-plugins. Else take them out of the job file.",
        "darby estimate job.toml --run-plugins",
    ),
}

_SAVED = {
    "saved-damaged": Page(
        "A saved estimate cannot be used",
        "The file is no saved estimate, breaks off, holds a value that cannot be, or was changed after Darby wrote it: each "
        "part of a saved estimate has a checksum, so that a number changed by accident cannot pass for the old one.",
        "Take the file from a copy or from version control, or make it again from the job.",
        "darby estimate job.toml --save job.json",
    ),
    "saved-newer": Page(
        "A saved estimate is of a newer version",
        "The file was saved by a later version of Darby, whose saved estimates hold what this one does not know.",
        "Update Darby, or save the estimate again with this version.",
    ),
}

PAGES: dict[str, Page] = PAPERS | _JOB | _PLUGINS | _ESTIMATE | _SAVED
"""Every code that a diagnostic may have, and its page."""
