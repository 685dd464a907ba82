#!/usr/bin/env python3
"""The formal grammar at the end of grammar/LANGUAGE.md, made from grammar/*.hpp.

Names what a reader wants to see as rules of their own (SHOWN); every other rule is put in where it is used.
White space and looks ahead are left out: the reference tells in words where they matter.
"""
import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FILES = ("lexis", "values", "expressions", "declarations", "builds")
SHOWN = """file declaration use unit currency choice table table_statement column designation form pattern formula group
attribute limits type kind kind_statement with face let interface interface_statement side requirement detail
template_text rule rule_statement for_clause kind_binder reachable part assignment path
value value_form quantity_value adjustable evidence grade cell quantity value_number unit_product type_unit
build build_statement place fit join rework waive stage trial trial_statement expect
expression logic_operand comparison relation arithmetic operand primary reference name_use call lookup bracketed
choice_of_two some every any_binder count_of aggregate_of term_of mate_of part_of face_operand
bare_text escape bare_date bare_name""".split()
SAME = {"bare_name": "name", "name": "name", "bare_text": "text", "bare_date": "date", "value_number": "number",
        "term_number": "number", "cell_number": "number", "unit_product": "unit_written", "known_product": "unit_written",
        "cell_quantity": "quantity", "term_quantity": "quantity", "choice_of_two": "if"}
NOTES = {"expression": "and binds more tightly than or",
         "arithmetic": "^ binds most tightly, then - before a value, then * and /, then + and -",
         "unit_product": "on the number's own line; no blanks inside",
         "pattern": "the { } and [ ] in quotes stand in the text as they are",
         "bare_text": "on one line"}
DROPPED = {"ws", "success", "blanks", "spaces", "separator", "line_over", "eof"}
AS_IS = {"alpha": "letter", "digit": "digit", "alnum": "letter | digit"}
WORD = 'letter { letter | digit | "_" }'
SCANNERS = {"any_word": (WORD, 1), "word_other_than": (WORD, 1), "known_unit": ("unit-name", 2), "any_of": ("", 2)}  # in grammar/tokens.hpp
RUNS = {"is_digit": ("digit { digit }", 1), "is_none_of": ("character", 2), "is_gap": ('(" " | "\\t") { " " | "\\t" }', 1)}


def rules():
    """name -> (template parameter or None, body) of every rule."""
    found = {}
    for name in FILES:
        text = (ROOT / f"grammar/{name}.hpp").read_text(encoding="utf-8")
        text = re.sub(r"//[^\n]*", "", text)
        for match in re.finditer(r"(?:template<\s*\w+ (\w+)\s*>\s*)?struct (\w+)\s*:\s*(.*?)\s*\{\};", text, re.S):
            found[match.group(2)] = (match.group(1), parse(match.group(3)))
    return found


def parse(body):
    """A tree (name, [arguments]) of a rule's body; literals stay texts."""
    tokens = re.findall(r'"(?:[^"\\]|\\.)*"|\'(?:[^\'\\]|\\.)*\'|\w+|[<>,]', body)
    at = 0

    def node():
        nonlocal at
        token = tokens[at]
        at += 1
        if token == "struct":
            return node()
        arguments = []
        if at < len(tokens) and tokens[at] == "<":
            at += 1
            while tokens[at] != ">":
                if tokens[at] == ",":
                    at += 1
                else:
                    arguments.append(node())
            at += 1
        return token, arguments

    return node()


def quoted(token):
    inner = re.sub(r"\\(['\"\\])", r"\1", token[1:-1])
    return f"'{inner}'" if '"' in inner else f'"{inner}"'


class Writer:
    """Trees to EBNF. A piece is (text, binding): 2 stands alone, 1 a sequence, 0 alternatives."""

    def __init__(self):
        self.rules = rules()
        self.open = []

    def shown(self, name):
        return SAME.get(name, name).replace("_", "-")

    def body(self, name):
        return self.write(self.rules[name][1], {})[0]

    def sequence(self, nodes, bound):
        pieces = [self.write(node, bound) for node in nodes]
        pieces = [piece for piece in pieces if piece[0]]
        if len(pieces) == 1:
            return pieces[0]
        return " ".join(f"({text})" if binding == 0 else text for text, binding in pieces), 1

    def write(self, node, bound):
        name, arguments = node
        if name in bound:
            return self.write(*bound[name])
        if name[0] in "\"'":
            return quoted(name), 2
        if name in DROPPED or name in ("at", "not_at"):  # looks ahead take nothing
            return "", 2
        if name in AS_IS:
            return AS_IS[name], 0 if "|" in AS_IS[name] else 2
        if name in ("seq", "must"):
            return self.sequence(arguments, bound)
        if name == "sor":
            return self.alternatives(arguments, bound)
        if name in ("star", "opt", "plus"):
            text, binding = self.sequence(arguments, bound)
            if not text:
                return "", 2
            if name == "plus" and text == "character":
                return text, 2
            if name == "plus":
                return f"{f'({text})' if binding == 0 else text} {{ {text} }}", 1
            return (f"{{ {text} }}", 2) if name == "star" else (f"[ {text} ]", 2)
        if name in ("rep", "rep_min_max"):
            least = int(arguments[0][0])
            text = self.sequence(arguments[1 if name == "rep" else 2:], bound)[0]
            more = 0 if name == "rep" else int(arguments[1][0]) - least
            return " ".join([text] * least + [f"[ {text} ]"] * more), 1
        if name == "one":
            return self.one(arguments)
        if name == "two":
            mark = quoted(arguments[0][0])
            return f'"{mark[1] * 2}"', 2
        if name == "string":
            return self.string(arguments), 2
        if name == "not_one":
            return "character", 2
        if name == "run_of":
            return RUNS[arguments[0][0]]
        if name in SCANNERS:
            return SCANNERS[name]
        if name in ("literal", "mark", "keyword_only", "word", "introducer") and arguments:
            return self.write(arguments[0], bound)
        return self.rule(name, arguments, bound)

    def alternatives(self, nodes, bound):
        texts = []
        for node in nodes:
            text, _ = self.write(node, bound)
            if text and text not in texts:
                texts.append(text)
        if len(texts) == 1:
            return texts[0], 1
        return " | ".join(texts), 0

    def one(self, arguments):
        texts = [quoted(argument[0]) for argument in arguments]
        return (texts[0], 2) if len(texts) == 1 else (" | ".join(texts), 0)

    def string(self, arguments):
        text = "".join(argument[0][1:-1] for argument in arguments)
        return '"±"' if text.startswith("\\x") else f'"{text}"'

    def rule(self, name, arguments, bound):
        parameter, body = self.rules[name]
        if body[0] == "failure":
            return "", 2
        if name in SHOWN or name in SAME:
            return self.shown(name), 2
        if name in self.open:
            raise ValueError(f"{name} holds itself: name it in SHOWN")
        self.open.append(name)
        written = self.write(body, {**bound, parameter: (arguments[0], bound)} if parameter else bound)
        self.open.pop()
        return written


def fold(head, text, width=100):
    lines, line = [], head
    for word in re.findall(r"(?:\"[^\"]*\"|'[^']*'|[^ \"'])+", text):
        if len(line) + 1 + len(word) > width:
            lines.append(line)
            line = " " * 4
        line += " " + word
    return "\n".join(lines + [line])


def grammar():
    """The whole of it, in the order of SHOWN."""
    writer = Writer()
    missing = [name for name in SHOWN if name not in writer.rules]
    if missing:
        raise ValueError(f"no such rules in grammar/: {', '.join(missing)}")
    texts = []
    for name in SHOWN:
        texts.append(fold(f"{writer.shown(name)} =", writer.body(name) + " ;"))
        if name in NOTES:
            texts.append(f"     (* {NOTES[name]} *)")
    return "\n".join(texts) + "\n"


if __name__ == "__main__":
    print(grammar(), end="")
