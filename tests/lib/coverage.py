"""What share of src the sanitized tests reached. Every run of the sanitized programs marks the blocks that it came through
(tests/fuzz/reached.cpp); here the blocks become lines, by the debugging information. A line at which no block begins is
reached with the line before it and is not counted. A line counts as reached when one block of it was, in one of the programs."""
import array
import re
import shutil
import subprocess

from outcome import Outcome, ROOT, each, reached_folder

PROGRAMS = ("matchmark", "unit_tests")
FLOOR = 89.0  # percent of the lines; a little below what is reached
PLACE = re.compile(r"^(?:0x([0-9a-f]+)|%s/src/(\S+):(\d+).*)$" % re.escape(str(ROOT)))


def forget(build):
    """A folder without marks."""
    folder = reached_folder(build)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)


def lines_of(program, marks):
    """{(file, line): reached} of one program. Of a call written into its caller the innermost line in src counts."""
    words = array.array("Q")
    words.frombytes(marks.read_bytes())
    reached = {word >> 1: word & 1 for word in words if word}
    done = subprocess.run(["addr2line", "--addresses", "--inlines", "--exe", str(program)], text=True, check=True,
                          input="".join(f"{address:x}\n" for address in reached), capture_output=True)
    lines, address = {}, None
    for match in filter(None, map(PLACE.match, done.stdout.split("\n"))):
        if match[1]:
            address = int(match[1], 16)
        elif address is not None:
            place = match[2], int(match[3])
            lines[place] = lines.get(place, 0) | reached[address]
            address = None
    return lines


def stage(build):
    outcome = Outcome()
    if not shutil.which("clang++"):
        outcome.note = "skipped: clang is not installed"
        return outcome
    marks = [(build / name, reached_folder(build) / name) for name in PROGRAMS]
    if lacking := [program.name for program, marked in marks if not marked.exists()]:
        outcome.failures.append(f"no run of {' or '.join(lacking)} has marked what it reached")
        return outcome
    lines = {}
    for one in each(lambda pair: lines_of(*pair), marks):
        for place, reached in one.items():
            lines[place] = lines.get(place, 0) | reached
    steps = {}
    for (file, _), reached in lines.items():
        for name in (file.split("/")[0], ""):
            step = steps.setdefault(name, [0, 0])
            step[0] += reached
            step[1] += 1
    reached, known = steps.pop("", (0, 0))
    for name, (some, every) in sorted(steps.items()):
        print(f"  {name:10} {some:6} of {every:6} lines  {100 * some / every:5.1f}%")
    share = 100 * reached / max(known, 1)
    outcome.check(share >= FLOOR, f"the tests reach {share:.1f}% of {known} lines of src, and {FLOOR}% is the least")
    outcome.note = f"{share:.1f}% of {known} lines of src"
    return outcome
