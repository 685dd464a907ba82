"""Same input, same bytes: in other locales and time zones, with and without randomised addresses, on one processor and
on all, in another folder, and, but for line numbers and the order of findings, with the declarations of every file in another order."""
import json
import os
import random
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

from outcome import Outcome, ROOT, difference, each, environment

FILES = ["builds/market_day_van/van.build", "examples/05_disputed.rules", "examples/16_quantifiers.rules",
         "examples/17_every_angle.rules", "examples/22_hazards.build", "examples/24_slots.build", "examples/25_adjustables.build",
         "examples/27_reworks.build", "examples/28_waivers.build", "examples/31_use.build", "examples/32_together.build"]
COMMA = ("de_DE.utf8", "fr_FR.utf8", "de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.utf8", "es_ES.utf8")


def commands(file):
    if file.endswith(".rules"):
        return [["trial", file, "--rules", "rules"]]
    words = [file, "--rules", "rules", "--today", "2026-03-14"]
    return [["check", *words, "--all"], ["check", *words, "--json"]]


def run(program, words, folder, variables=(), before=()):
    done = subprocess.run([*before, str(program), *words], cwd=folder, stdin=subprocess.DEVNULL, capture_output=True,
                          env={**environment(program), **dict(variables)}, timeout=120, check=False)
    return done.returncode, done.stdout, done.stderr


def comma_locale(folder):
    """Variables that choose a locale whose numbers have a decimal comma, and what it is."""
    known = subprocess.run(["locale", "-a"], capture_output=True, text=True, check=False).stdout.split() \
        if shutil.which("locale") else []
    for name in COMMA:
        if name in known:
            return {"LC_ALL": name}, name
    if shutil.which("localedef"):
        made = subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8", str(Path(folder, "de_DE.UTF-8"))],
                              capture_output=True, check=False)
        if Path(folder, "de_DE.UTF-8").is_dir() and made.returncode in (0, 1):
            return {"LC_ALL": "de_DE.UTF-8", "LOCPATH": folder}, "de_DE.UTF-8"
    return {"LC_ALL": "", "LANG": "C.UTF-8", "LC_NUMERIC": "de_DE.UTF-8"}, "no locale with a decimal comma here"


def declarations(text):
    """The top-level declarations of a file, each with the comments before it."""
    pieces, start, depth, at, seen = [], 0, 0, 0, False
    while at < len(text):
        char = text[at]
        if char == "#":
            at = (text + "\n").index("\n", at)
            continue
        if char == '"':
            at += 1
            while at < len(text) and text[at] not in '"\n':
                at += 2 if text[at] == "\\" else 1
        elif char == "{":
            depth += 1
        elif char == "}":
            depth -= 1
        elif char == "\n" and depth == 0 and seen:
            following = re.match(r"\s*(#[^\n]*\s*)*(part|use|unit|currency|choice|table|designation|formula|group|kind|interface|"
                                 r"rule|build|trial)\b", text[at:])
            if following or not text[at:].strip():
                pieces.append(text[start:at + 1])
                start, seen = at + 1, False
        seen = seen or not char.isspace()
        at += 1
    if text[start:].strip():
        pieces.append(text[start:] + "\n")
    return pieces


def shuffle(path, seed):
    pieces = declarations(path.read_text(encoding="utf-8"))
    first = [piece for piece in pieces if re.search(r"^\s*use\b", piece, re.M) and "{" not in piece]
    # files that are brought in, and declarations, in any order
    rest = [piece for piece in pieces if piece not in first]
    draw = random.Random(f"{seed} {path.name}")
    draw.shuffle(first)
    draw.shuffle(rest)
    path.write_text("\n".join(first + rest), encoding="utf-8")
    return len(rest)


def unplaced(value):
    """A report without lines and columns, lists of findings in an order of their own."""
    if isinstance(value, dict):
        return {key: unplaced(one) for key, one in value.items() if key not in ("line", "column")}
    if isinstance(value, list):
        made = [unplaced(one) for one in value]
        return sorted(made, key=lambda one: json.dumps(one, sort_keys=True))
    if isinstance(value, str):
        return re.sub(r"(\.(?:rules|parts|build)):\d+(:\d+)?", r"\1", value)
    return value


def resolved(value, findings):
    """A part of a report with the findings themselves in place of their numbers."""
    if isinstance(value, dict):
        made = {key: resolved(one, findings) for key, one in value.items()}
        if isinstance(made.get("finding"), int):
            made["finding"] = findings[made["finding"]]
        if all(isinstance(one, int) for one in made.get("findings", [None])):
            made["findings"] = [findings[one] for one in made["findings"]]
        return made
    return [resolved(one, findings) for one in value] if isinstance(value, list) else value


def comparable(text):
    report = json.loads(text)
    for build in report["builds"]:
        values = build.pop("values")
        for case in (case for finding in build["findings"] for case in finding["cases"]):
            case["reads"] = [values[number] for number in case["reads"]]
    report["builds"] = [resolved(build, build["findings"]) for build in report["builds"]]
    return json.dumps(unplaced(report), indent=1, sort_keys=True).split("\n")


def stage(program):
    outcome = Outcome()
    with tempfile.TemporaryDirectory(prefix="matchmark-same-") as folder:
        comma, comma_name = comma_locale(folder)
        copy = Path(folder, "elsewhere")
        for name in ("rules", "builds", "examples"):
            shutil.copytree(ROOT / name, copy / name)
        mixed = Path(folder, "mixed")
        shutil.copytree(copy, mixed)
        moved = sum(shuffle(path, 7) for name in ("rules", "builds", "examples") for path in sorted((mixed / name).rglob("*"))
                    if path.suffix in (".rules", ".parts", ".build"))
        if shutil.which("locale") and "comma" not in comma_name:
            shown = subprocess.run(["locale", "decimal_point"], capture_output=True, text=True, check=False,
                                   env={**environment(program), **comma}).stdout.strip()
            outcome.check(shown == ",", f"{comma_name} has the decimal point {shown!r}: nothing would be tested")
        ways = [(f"the locale {comma_name}", ROOT, comma, ()), ("the locale C", ROOT, {"LC_ALL": "C"}, ()),
                ("the time zone of Kiritimati", ROOT, {"TZ": "Pacific/Kiritimati"}, ()),
                ("the time zone UTC+11", ROOT, {"TZ": "XXX+11"}, ()), ("another folder", copy, {}, ())]
        if shutil.which("taskset"):
            ways.append(("one processor", ROOT, {}, ("taskset", "-c", str(min(os.sched_getaffinity(0))))))
        if shutil.which("setarch"):
            ways.append(("addresses that are not randomised", ROOT, {}, ("setarch", os.uname().machine, "-R")))

        def one(file):
            texts = []
            for words in commands(file):
                status, out, err = run(program, words, ROOT)
                for about, where, variables, before in ways:
                    again = run(program, words, where, variables, before)
                    if again != (status, out, err):
                        texts.append(f"{' '.join(words)}: another output with {about}\n" + difference(
                            out.decode().split("\n"), again[1].decode("utf-8", "replace").split("\n"), file)[:2000] +
                            again[2].decode("utf-8", "replace")[:500])
                    else:
                        texts.append("")
                again = run(program, words, mixed)
                if "--json" in words:
                    reports = [comparable(text or b'{"builds": []}') for text in (out, again[1])]
                    same = reports[0] == reports[1] and again[0] == status
                    texts.append("" if same else f"{' '.join(words)}: other verdicts with the declarations in another order\n"
                                 + difference(*reports, file)[:3000] + again[2].decode()[:1000])
                else:
                    texts.append("" if again[0] == status else f"{' '.join(words)}: exit status {again[0]}, not {status}, with the "
                                 f"declarations in another order\n{again[2].decode()[:1000]}{again[1].decode()[:1000]}")
            return texts

        for texts in each(one, FILES):
            for text in texts:
                outcome.check(not text, text)
        outcome.check(moved > 500, f"only {moved} declarations were moved")
        outcome.note = f"{comma_name}; {moved} declarations moved"
    return outcome
