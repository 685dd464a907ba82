"""The command line's transcripts: tests/cli/*.transcript.

    # what this shows
    $ printf 'build' > a.build          a command for sh; all commands of a file share one empty folder
    $ matchmark check a.build
    the output, standard error among it, to the byte
    [exit 3]                            when the status is not 0

Blank lines between an output and the next command or comment do not count. A backslash at the end of a command's
line continues it. `$ROOT` in the output stands for the project's folder. A file whose first line is
"#needs root" (or a program's name) is skipped elsewhere.
"""
import os
import shutil
import tempfile

from outcome import Outcome, ROOT, difference, each, environment, run_group

FOLDER = ROOT / "tests/cli"


def read(path):
    """[(the lines as written, command, expected output with its exit line)]; a comment has no command."""
    entries = []
    lines = path.read_text(encoding="utf-8").split("\n")
    if lines[-1] == "":
        lines.pop()
    i = 0
    while i < len(lines):
        if lines[i].startswith("$ "):
            written = [lines[i]]
            while written[-1].endswith("\\"):
                i += 1
                written.append(lines[i])
            command = "\n".join(written)[2:]
            i += 1
            output = []
            while i < len(lines) and not lines[i].startswith(("$ ", "# ")):
                output.append(lines[i])
                i += 1
            blank = 0
            while output and output[-1] == "":
                output.pop()
                blank += 1
            entries.append((written, command, output, blank))
        else:
            entries.append(([lines[i]], None, [], 0))
            i += 1
    return entries


def play(entries, program, timeout):
    """The entries with the outputs that really come."""
    played = []
    with tempfile.TemporaryDirectory(prefix="matchmark-cli-") as folder:
        for written, command, expected, blank in entries:
            if command is None:
                played.append((written, command, expected, blank))
                continue
            # the folder in which it stands is named as it is inside itself, so that paths are the same everywhere
            status, output = run_group(["bash", "-c", command], timeout, cwd=folder, stderr=-2,
                                       env=environment(program))
            text = output.decode("utf-8", "backslashreplace").replace(str(ROOT), "$ROOT").replace(folder, "$HERE")
            lines = text.split("\n")
            if lines[-1] == "":
                lines.pop()
            else:
                lines[-1] += "[no newline]"
            while lines and lines[-1] == "":
                lines.pop()
            if status is None:
                lines.append(f"[no answer within {timeout} s]")
            elif status:
                lines.append(f"[exit {status}]")
            played.append((written, command, lines, blank))
    return played


def flat(entries):
    lines = []
    for written, _, output, blank in entries:
        lines += written + output + [""] * blank
    return lines


def wrong(path, program, timeout, update):
    entries = read(path)
    played = play(entries, program, timeout)
    if update:
        text = "\n".join(flat(played)) + "\n"
        if text != path.read_text(encoding="utf-8"):
            path.write_text(text, encoding="utf-8")
            print(f"rewritten: {path.relative_to(ROOT)}")
        return ""
    return difference(flat(entries), flat(played), path.name)


def lacks(path):
    first = path.read_text(encoding="utf-8").split("\n", 1)[0]
    if not first.startswith("#needs "):
        return ""
    for need in first[7:].split():
        if need == "root":
            if os.geteuid() != 0:
                return "root"
        elif not shutil.which(need):
            return need
    return ""


def stage(program, names=(), update=False, timeout=20):
    outcome = Outcome()
    skipped = []
    paths = sorted(FOLDER.glob("*.transcript"))
    if names:
        paths = [path for path in paths if any(name in path.stem for name in names)]
    if not paths:
        outcome.failures.append("there is no such transcript")
    for path in list(paths):
        if lack := lacks(path):
            skipped.append(f"{path.stem} (needs {lack})")
            paths.remove(path)
    for path, text in zip(paths, each(lambda path: wrong(path, program, timeout, update), paths)):
        outcome.check(not text, f"transcript {path.stem} ({path.relative_to(ROOT)})\n{text}")
    if skipped:
        outcome.note = "skipped: " + ", ".join(skipped)
    return outcome
