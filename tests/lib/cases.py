"""The cases: files tests/cases/**/*.case, each with its input and what must come out.

A case is a matchmark file whose comments carry the orders:
    #run check --all        the verb and its options (without it: check); the file's name goes after the verb
    #file wheels.rules      what follows is a further file of this name; what stands before is case.build
    #exit 3                 the exit status (without it: 0)
    circle 108   #^ unit_missing             this line, and no line without such a mark, gets this message
    #= conflict lug_circle on hub.front      one finding, of `check --json`; all findings must be listed
    #> text                 one line of the output, standard error after standard output; blanks at its end do not count
Orders that begin with #exit, #= or #> stand at the end. A case has #= lines, or #> lines, or both, or neither.
"""
import json
import re
import subprocess
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import findings
from outcome import Outcome, ROOT, difference, each, environment

FOLDER = ROOT / "tests/cases"
MAIN = "case.build"
ENDING = ("#exit", "#=", "#>")
MARK = re.compile(r"#\^ ([a-z_ ]+)$")
HEAD = re.compile(r"^[^:\s]+:\d+:\d+: (?:error|warning): ")
MESSAGE = re.compile(r"^([^:\s]+):(\d+):\d+: (?:error|warning): .* \[(\w+)\]$")


def unwrapped(output):
    """The first line of each message in one piece; it ends in its code in brackets."""
    lines = []
    for line in output:
        if lines and HEAD.match(lines[-1]) and not lines[-1].endswith("]"):
            lines[-1] += " " + line.strip()
        else:
            lines.append(line)
    return lines


@dataclass
class Case:
    path: Path
    words: list = field(default_factory=lambda: ["check"])
    files: dict = field(default_factory=dict)
    exit: int = 0
    finds: list = field(default_factory=list)
    output: list = field(default_factory=list)
    has_finds: bool = False
    has_output: bool = False
    text: str = ""  # without the ending
    marks: set = field(default_factory=set)  # (file, line, code)

    @property
    def name(self):
        return str(self.path.relative_to(FOLDER).with_suffix(""))


def read(path):
    case = Case(path)
    lines = path.read_text(encoding="utf-8").split("\n")
    if lines and lines[-1] == "":
        lines.pop()
    end = next((i for i, line in enumerate(lines) if line.startswith(ENDING)), len(lines))
    name = MAIN
    sections = {MAIN: []}
    for line in lines[:end]:
        if line.startswith("#run "):
            case.words = line[5:].split()
        if line.startswith("#file "):
            name = line[6:].strip()
            sections[name] = []
        else:
            sections[name].append(line)
            if mark := MARK.search(line):
                case.marks |= {(name, len(sections[name]), code) for code in mark[1].split()}
    case.files = {name: "".join(line + "\n" for line in body) for name, body in sections.items()}
    case.text = "".join(line + "\n" for line in lines[:end])
    for line in lines[end:]:
        if line.startswith("#exit "):
            case.exit = int(line[6:])
        elif line.startswith("#="):
            case.has_finds = True
            if line[2:].strip():
                case.finds.append(line[2:].strip())
        elif line.startswith("#>"):
            case.has_output = True
            case.output.append(line[3:] if line.startswith("#> ") else line[2:])
        elif line.strip():
            raise ValueError(f"{path}: \"{line}\" stands after the orders at the end")
    return case


def run(case, program, words, timeout):
    with tempfile.TemporaryDirectory(prefix="matchmark-case-") as folder:
        for name, text in case.files.items():
            path = Path(folder, name)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        command = [str(program), words[0], MAIN, *words[1:]]
        if words[0] == "schema":
            command = [str(program), *words]
        try:
            done = subprocess.run(command, cwd=folder, stdin=subprocess.DEVNULL, capture_output=True,
                                  timeout=timeout, env=environment(program), check=False)
        except subprocess.TimeoutExpired:
            return None, f"no answer within {timeout} s\n", ""
    return (done.returncode, done.stdout.decode("utf-8", "backslashreplace"),
            done.stderr.decode("utf-8", "backslashreplace"))


def wrong(case, program, timeout, update):
    """What is wrong with the case's result, or nothing."""
    texts = []
    got = []
    status, out, err = run(case, program, case.words, timeout)
    if status is None:
        return out
    output = [line.rstrip() for line in (out + err).split("\n")[:-1]]
    if case.has_finds:
        words = case.words if case.words[0] == "check" else ["check"]
        _, text, errors = run(case, program, [*(word for word in words if word not in ("--all", "--json")), "--json"], timeout)
        try:
            got = findings.found(json.loads(text))
        except (ValueError, KeyError, TypeError) as error:
            texts.append(f"no readable report: {error!r}\n{text[:500]}{errors[:1500]}")
    if case.marks:
        shown = {(match[1], int(match[2]), match[3]) for match in map(MESSAGE.match, unwrapped(output)) if match}
        texts += [f"no message {code} at {file}:{line}" for file, line, code in sorted(case.marks - shown)]
        texts += [f"no mark for the message {code} at {file}:{line}" for file, line, code in sorted(shown - case.marks)]
        if texts:
            texts.append("\n".join(output))
    if update and not texts:
        rewrite(case, status, got, output)
        return ""
    if update:
        return "\n".join(texts)
    if status != case.exit:
        texts.append(f"exit status {status}, expected {case.exit}")
        if not case.has_output:
            texts.append("\n".join(output[:40]))
    if case.has_finds:
        texts.append(findings.compare(case.finds, got))
    if case.has_output and case.output != output:
        texts.append(difference(case.output, output, "output"))
    return "\n".join(text for text in texts if text)


def rewrite(case, status, got, output):
    text = case.text
    if status:
        text += f"#exit {status}\n"
    if case.has_finds:
        # an expectation that still holds keeps its words
        kept = {}
        for line in case.finds:
            match = next((one for one in got if id(one) not in kept and one.meets(line)), None)
            if match:
                kept[id(match)] = line
        text += "".join(f"#= {kept.get(id(one), one.head)}\n" for one in got) or "#=\n"
    if case.has_output or not case.has_finds:
        text += "".join(f"#> {line}".rstrip() + "\n" for line in output)
    if text != case.path.read_text(encoding="utf-8"):
        case.path.write_text(text, encoding="utf-8")
        print(f"rewritten: {case.path.relative_to(ROOT)}")


def stage(program, names=(), update=False, timeout=20):
    outcome = Outcome()
    cases = [read(path) for path in sorted(FOLDER.rglob("*.case"))]
    if names:
        cases = [case for case in cases if any(name in case.name for name in names)]
    if not cases:
        outcome.failures.append("there is no such case")
    for case, text in zip(cases, each(lambda case: wrong(case, program, timeout, update), cases)):
        outcome.check(not text, f"case {case.name} ({case.path.relative_to(ROOT)})\n{text}")
    return outcome
