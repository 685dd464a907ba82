"""Every message is shown by a case or transcript: its code stands in an expected output."""
import re

from outcome import Outcome, ROOT

ROW = re.compile(r"^\s*MM_MESSAGE\(\s*(\w+)\s*,\s*(?:error|warning)\s*,", re.M)


def codes():
    found = []
    for path in sorted((ROOT / "src/messages").glob("*.def")):
        text = "\n".join(line for line in path.read_text(encoding="utf-8").split("\n")
                         if not line.lstrip().startswith("//"))
        found += [(code, path) for code in ROW.findall(text)]
    return found


def shown():
    seen = set()
    for path in (ROOT / "tests/cases").rglob("*.case"):
        for line in path.read_text(encoding="utf-8").split("\n"):
            if line.startswith("#>"):
                seen.update(re.findall(r"\[(\w+)\]$", line))
    for path in (ROOT / "tests/cli").glob("*.transcript"):
        for line in path.read_text(encoding="utf-8").split("\n"):
            if not line.startswith(("$", "#")):
                seen.update(re.findall(r"\[(\w+)\]$", line))
    return seen


def stage():
    outcome = Outcome()
    seen = shown()
    rows = codes()
    if not rows:
        outcome.failures.append("no message was found in src/messages/*.def")
    for code, path in rows:
        outcome.check(code in seen, f"no case shows the message {code} ({path.relative_to(ROOT)})")
    return outcome
