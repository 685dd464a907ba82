#!/usr/bin/env python3
"""grammar/LANGUAGE.md and README.md against what they speak of. With --update writes what can be written.

  ```matchmark NAME     equals examples/NAME; every example is shown once, there or in the README
  ```console            the commands and outputs stand, in this order, in the page's transcript in tests/cli
  <!-- made: WHAT -->   equals what is made here from the sources: messages, limits, units, dimensions, grammar
"""
import re
import sys
from pathlib import Path

import grammar_ebnf

ROOT = Path(__file__).resolve().parents[2]
PAGES = {"grammar/LANGUAGE.md": "language", "README.md": "readme"}  # and their transcripts
BLOCK = re.compile(r"^```(matchmark|console)([^\n]*)\n(.*?)^```$", re.M | re.S)
MADE = re.compile(r"(<!-- made: (\w+) -->\n)(.*?)(<!-- end -->)", re.S)
LIMITS = (  # what is bounded, its file, the name of the number
    ("bytes of one file (`--max-file-size`, in megabytes)", "src/syntax/load.hpp", "max_file_bytes"),
    ("files read", "src/syntax/load.hpp", "max_files"),
    ("errors of one file, after which the rest of it is not read", "src/syntax/parse.hpp", "max_errors_in_file"),
    ("levels of brackets and blocks (`--max-nesting`)", "src/syntax/parse.hpp", "usual_nesting"),
    ("the same, whatever is allowed", "src/syntax/parse.hpp", "most_nesting"),
    ("levels of one expression", "src/syntax/parse.hpp", "max_expression_depth"),
    ("names in one path", "src/syntax/parse.hpp", "max_path_length"),
    ("digits of one number", "src/base/rational_text.cpp", "max_digits_read"),
    ("power of a unit", "src/units/unit_table.cpp", "max_unit_power"),
    ("steps of one requirement once its formulas are put in", "src/resolve/compiler.hpp", "max_steps"),
    ("the same, of all requirements, formulas and templates together", "src/resolve/context.hpp", "max_steps_in_all"),
    ("bytes of a size as the trade writes it", "src/resolve/designation_match.hpp", "max_size_length"),
    ("sums that the pieces of one adjustable can make", "src/resolve/adjustables.cpp", "max_settings"),
    ("fitted parts of one build", "src/resolve/build_fits.cpp", "max_instances"),
    ("planned reworks of one part", "src/resolve/build_states.cpp", "max_reworks"),
    ("matches of one rule (`--max-matches`)", "src/evaluate/evaluate.hpp", "max_matches"),
    ("combinations of candidates for one requirement (`--max-combinations`)", "src/evaluate/evaluate.hpp", "max_combinations"),
    ("pieces into which the ranges are split for one verdict (`--max-pieces`)", "src/evaluate/evaluate.hpp", "max_splits"),
    ("steps of all that one build asks (`--max-work`, in millions); each requirement gets as many as any other", "src/evaluate/evaluate.hpp", "max_steps"),
    ("steps of the search for choices (`--max-choices`)", "src/app/options.hpp", "max_choices"),
    ("errors that are kept; the rest are counted", "src/messages/message.hpp", "most_held"),
    ("megabytes of memory (`--max-memory`); with more than 9 megabytes of text, 50 times the text", "src/app/limits.cpp", "usual_megabytes"),
    ("seconds of processor time (`--max-seconds`)", "src/app/options.hpp", "max_seconds"),
)


def read(path):
    return (ROOT / path).read_text(encoding="utf-8")


def made_limits():
    lines = ["| bound | number |", "|---|---|"]
    for words, path, name in LIMITS:
        found = re.search(rf"\b{name}\s*=\s*([\d'U<\s]+);", read(path))
        if not found:
            raise ValueError(f"{path} holds no {name}")
        number = found[1].replace("'", "").replace("U", "")
        whole = int(number) if "<<" not in number else int(number.split("<<")[0]) << int(number.split("<<")[1])
        lines.append(f"| {words} | {whole} |")
    return lines


def made_messages():
    lines = ["| code | text |", "|---|---|"]
    for path in sorted((ROOT / "src/messages").glob("codes_*.def")):
        for code, text in re.findall(r'MM_MESSAGE\((\w+), \w+,\s*"((?:[^"\\]|\\.)*)"\)', path.read_text(encoding="utf-8")):
            plain = re.sub(r"\{(\d)\}", "…", text).replace("{{", "{").replace("}}", "}").replace('\\"', '"').replace("\\\\", "\\")
            lines.append(f"| `{code}` | {plain} |".replace("||", "| |"))
    return lines


def made_units():
    groups = {}
    for name, word in re.findall(r'MM_UNIT\("(\w+)", "(\w+)"', read("src/units/builtin_units.def")):
        groups.setdefault(word, []).append(name)
    return ["| dimension | units |", "|---|---|"] + [
        f"| {word.replace('_', ' ')} | {' '.join(f'`{name}`' for name in names)} |" for word, names in groups.items()]


def made_dimensions():
    words = re.findall(r'\{"(\w+)",', read("src/units/dimension_words.cpp"))
    lines, line = [], ""
    for word in words:
        if len(line) + len(word) + 3 > 100:
            lines.append(line.rstrip())
            line = ""
        line += f"`{word}` "
    return lines + [line.rstrip()]


def made_grammar():
    return ["```ebnf", *grammar_ebnf.grammar().splitlines(), "```"]


MAKERS = {"limits": made_limits, "messages": made_messages, "units": made_units, "dimensions": made_dimensions,
          "grammar": made_grammar}


def commands(block):
    """[(command, output)] of a console block or a transcript."""
    found = []
    lines = block.split("\n")
    i = 0
    while i < len(lines):
        line = lines[i]
        i += 1
        if line.startswith("$ "):
            while line.endswith("\\"):
                line += "\n" + lines[i]
                i += 1
            found.append((line[2:], []))
        elif found and not line.startswith("# "):
            found[-1][1].append(line)
        elif line.startswith("# "):
            found.append(("", []))
    return [(command, "\n".join(output).strip("\n")) for command, output in found if command]


def played(transcript):
    """[(command, output)] of a transcript, exit statuses left out."""
    return [(command, re.sub(r"\n?\[exit \d\]$", "", output))
            for command, output in commands(read(f"tests/cli/{transcript}.transcript"))]


def rewritten(page, text, complaints):
    """The page with every block as it should be."""
    entries = iter(played(PAGES[page]))

    def block(match):
        kind, name, body = match[1], match[2].strip(), match[3]
        if kind == "matchmark":
            path = ROOT / "examples" / name
            if name and not path.is_file():
                complaints.append(f"{page} shows examples/{name}, which does not exist")
            if not name or not path.is_file():
                return match[0]
            return f"```matchmark {name}\n{path.read_text(encoding='utf-8')}```"
        lines = []
        for command, _ in commands(body):
            output = next((output for other, output in entries if other == command), None)
            if output is None:
                complaints.append(f"{page}: {PAGES[page]}.transcript does not run, here in its order: {command}")
                return match[0]
            lines.append(f"$ {command}\n" + (output + "\n" if output else ""))
        return "```console\n" + "".join(lines) + "```"

    def made(match):
        return match[1] + "\n".join(MAKERS[match[2]]()) + "\n" + match[4]

    return MADE.sub(made, BLOCK.sub(block, text))


def main():
    update = "--update" in sys.argv
    complaints, shown = [], []
    for page in PAGES:
        text = read(page)
        shown += [match[2].strip() for match in BLOCK.finditer(text) if match[1] == "matchmark" and match[2].strip()]
        right = rewritten(page, text, complaints)
        if right == text:
            continue
        if update:
            (ROOT / page).write_text(right, encoding="utf-8")
            continue
        for number, (old, new) in enumerate(zip(text.split("\n"), right.split("\n")), 1):
            if old != new:
                complaints.append(f"{page}:{number}: holds\n  {old}\nbut should hold\n  {new}")
                break
        else:
            complaints.append(f"{page} ends otherwise than it should")
    examples = {str(path.relative_to(ROOT / "examples")) for path in (ROOT / "examples").rglob("*") if path.is_file()}
    complaints += [f"examples/{name} is shown nowhere" for name in sorted(examples - set(shown))]
    complaints += [f"examples/{name} is shown twice" for name in sorted(set(shown)) if shown.count(name) > 1]
    run = " ".join(command for transcript in PAGES.values() for command, _ in played(transcript))
    complaints += [f"no transcript of tests/cli checks examples/{name}" for name in sorted(examples)
                   if name.endswith(".build") and name not in run and "/" not in name]
    print("\n".join(complaints) or f"{len(shown)} examples shown, {len(PAGES)} pages agree")
    if complaints:
        print("tests/outside/check_language.py --update writes what can be written")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main())
