"""Texts that a careless or spiteful stranger could send. Each generator is one text (or several files) that some step
may take badly: too deep, too long, too many, or a little text that asks for a great deal of work.

    python3 tests/hostile/nasty.py            lists them
    python3 tests/hostile/nasty.py NAME DIR   writes the files of one into a folder; main.build is the one to check
"""
import random
import sys
from dataclasses import dataclass, field
from pathlib import Path

ALL = {}
MB = 1_000_000


@dataclass
class Nasty:
    name: str
    make: object            # () -> str, bytes, or {file name: str or bytes}; main.build is the one to check
    says: str               # a regular expression that the output must hold
    statuses: tuple = (3,)  # right answers
    verbs: tuple = ("check",)
    words: tuple = field(default=())  # further words of the command line


def nasty(says, *statuses, verbs=("check",), words=()):
    """Registers a generator under its name."""
    def take(make):
        ALL[make.__name__] = Nasty(make.__name__, make, says, statuses or (3,), verbs, words)
        return make
    return take


def register(name, make, says, *statuses, verbs=("check",), words=()):
    ALL[name] = Nasty(name, make, says, statuses or (3,), verbs, words)


def files(one):
    made = one.make()
    made = made if isinstance(made, dict) else {"main.build": made}
    return {name: text.encode() if isinstance(text, str) else text for name, text in made.items()}


def write(one, folder):
    for name, text in files(one).items():
        path = Path(folder, name)
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text)


PEG = "kind peg { size: length  turn: angle  n: count  free: ratio  on: yes_no }\n"


def rule(test, before="", name="r", variables="p: peg"):
    return f"{before}rule {name} {{ for {variables} need a: {test} }}\n"


def judged(test, sheet="size 1..2 mm", before="", fits=1, variables="p: peg"):
    """A rule and a build in which it is judged."""
    places = ", ".join(f"at{i}" for i in range(fits))
    put = f"place {places}\nfit p: peg_1 at {places}" if fits > 1 else "fit p: peg_1"
    return (PEG + before + f"part peg_1 is peg {{ quantity {fits}; {sheet} }}\n" + rule(test, variables=variables)
            + f"build b {{ {put} }}\n")


# ---- nesting: every bracket, and every form of expression that holds another

def deep(name, opening, middle, closing, after="", before=PEG, says="nested more than 100 levels"):
    """Far too deep, closed and not, and a size at which it is still fine (that one is judged)."""
    for levels in (101, 100_000):
        register(f"deep_{name}_{levels}",
                 lambda levels=levels: before + "rule r { for p: peg need a: " + opening * levels + middle + closing * levels + after + " }\n",
                 says if levels > 200 else "nested more than 100|main.build:|holds no build", 3, 4)
    register(f"deep_{name}_open", lambda: before + "rule r { for p: peg need a: " + opening * (2 * MB // len(opening)),
             says + "|expected|still open")


deep("parentheses", "(", "1", ")", " = 1")
deep("minus", "-", "1", "", " = 1")
deep("not", "not ", "p.on", "")
deep("powers", "2 ^ ", "2", "", " = 1")
deep("if_then", "if p.on then ", "1", " else 2", " = 1")
deep("if_condition", "if ", "p.on", " then p.on else p.on")
deep("if_else", "if p.on then 1 else ", "2", "", " = 1")
deep("some_has", "some x: peg has ", "p.on", "")
deep("every_has", "every x: peg has ", "p.on", "")
deep("some_where", "some x: peg where ", "p.on", "")
deep("every_range", "every z in 0..1 has ", "p.on", "")
deep("range_ends", "every z in 0..(if ", "p.on", " then 1 else 2) has p.on")
deep("count_where", "count of x: peg where (", "p.on", ") > 1")
deep("sum_of", "sum of (", "1", ") for x: peg", " = 1")
deep("sum_of_sum", "sum of ", "p.size", " for x: peg", " = 1 mm")
deep("calls", "abs(", "1", ")", " = 1")
deep("calls_of_two", "min(1, ", "1", ")", " = 1")
deep("lookups", "t[a = ", "1 mm", "].a", " > 1 mm", PEG + 'table t { a: mm 1 source "s" }\n')
deep("tuples", "(1, ", "1", ") in t", "", PEG + 'table t { a: mm 1 source "s" }\n', says="nested more than|expected")
deep("mate", "mate of ", "p", "", " = p")
deep("part_of", "part_of ", "p", "", " = p", says="nested more than|expected")
deep("within", "1 within (", "1", ") of 1", says="nested more than|comparisons|expected|holds")
deep("reachable", "some x: peg reachable from (", "p", ") through i has p.on")
deep("has_members", "p.", "p", "", " = 1", says="nested more than|a path of more|levels|no \"")


@nasty("nested more than 100 levels|a path of more than 16 names", 3)
def deep_braces_of_parts():
    return PEG + "part x is peg { " + "size { " * 100_000


@nasty("nested more than 100 levels|names", 3)
def deep_braces_of_parts_closed():
    return PEG + "part x is peg { " + "size { " * 50_000 + "}" * 50_000 + " }\n"


@nasty("no statement begins|expected|more than", 3)
def ten_megabytes_of_braces():
    return "{" * (10 * MB)


@nasty("more than 100 levels|no statement begins|expected", 3)
def ten_megabytes_of_blocks():
    return "part a is b { " + "{" * (10 * MB)


@nasty("main.build:", 3)
def ten_megabytes_of_closing_braces():
    return "}" * (10 * MB)


for bracket in "([\"'`<\\":
    register(f"ten_megabytes_of_{ord(bracket):02x}", lambda bracket=bracket: bracket * (10 * MB), "main.build:")
    register(f"two_megabytes_in_a_test_of_{ord(bracket):02x}",
             lambda bracket=bracket: PEG + "rule r { for p: peg need a: " + bracket * (2 * MB), "main.build:")


@nasty("nested more than 100 levels|expected", 3)
def deep_holes_in_a_text():
    return PEG + 'rule r { for p: peg need a: p.on { remedy "' + '{p.size + (' * 50_000 + '" } }\n'


@nasty("main.build:1:", 3)
def deep_pattern():
    return 'designation d "' + "[{a: " * 500_000 + '"\n'


# ---- long chains

def chain(name, link, count, says="an expression of more than 1000 levels|holds no build|no verdict|main.build", *statuses, after=" > 0"):
    register(f"chain_{name}", lambda: PEG + rule("1" + link * count + after), says, *(statuses or (3, 4)))


chain("plus", " + 1", 500_000)
chain("minus", " - 1", 500_000)
chain("times", " * 1", 500_000)
chain("over", " / 1", 500_000)
chain("power", " ^ 1", 500_000)
chain("and", " = 1 and 1", 300_000, after=" = 1")
chain("or", " = 1 or 1", 300_000, after=" = 1")
chain("compare", " < 1", 300_000, after="")
chain("within", " within 1 of 1", 300_000, after="")
chain("arguments", "", 0, after=" < max(" + "1, " * 300_000 + "1)")
chain("plus_999", " + 1", 999, after=" > 0")


@nasty("longer than|more than|main.build|holds no build", 3, 4)
def long_if_else_chain():
    return PEG + rule("1 = " + "(if p.on then 1 else " * 90 + "2" + ")" * 90)


def many(name, text, *statuses, says=".", verbs=("check",), words=()):
    register(f"many_{name}", text, says, *(statuses or (3,)), verbs=verbs, words=words)


many("wrong_lines", lambda: "knid a { }\n" * 900_000, says="and 901 more messages")
many("unknown_names", lambda: PEG + "".join(f"part p{i} is pge {{ }}\n" for i in range(200_000)), says="more messages")
many("duplicates", lambda: "kind k { a: length }\n" * 400_000, says="declared twice")
many("near_misses", lambda: "".join(f"kind k{i}abcdefghijklmnopqrstuvwxyz {{ a: length }}\n" for i in range(50_000))
     + "".join(f"part p{i} is k{i}abcdefghijklmnopqrstuvwxyy {{ }}\n" for i in range(50_000)), says="no kind")
many("kinds", lambda: "".join(f"kind k{i} {{ a: length }}\n" for i in range(300_000)), 4)
many("attributes", lambda: "kind k { " + " ".join(f"a{i}: length" for i in range(400_000)) + " }\npart p is k { a7 1 mm }\nbuild b { fit p: p }\n", 2)
many("attributes_twice", lambda: "kind k { a: length }\npart p is k { " + "a 1 mm\n" * 400_000 + " }\nbuild b { fit p: p }\n", 3)
many("disputes", lambda: "kind k { a: length }\npart p is k { " + "".join(f"a {i} mm per claimed\n" for i in range(300_000)) + " }\n"
     "rule r { for p: k need n: p.a <= 1 km }\nbuild b { fit p: p }\n", 0, 2)
many("faces", lambda: "interface i { side a { x: length } side b { x: length } need n: a.x within 1 mm of b.x }\nkind k { face "
     + ", ".join(f"f{i}" for i in range(100_000)) + ": i.a }\npart p is k { }\nbuild b { fit p: p }\n", 2, 4, words=("--max-seconds", "1"))
many("sides", lambda: "interface i { " + " ".join(f"side s{i} {{ x: length }}" for i in range(100_000)) + " }\n", 4)
many("choices", lambda: "choice c = " + ", ".join(f"w{i}" for i in range(700_000)) + "\nkind k { a: c }\npart p is k { a w7 }\n"
     "rule r { for p: k need n: p.a = w7 }\nbuild b { fit p: p }\n", 0)
many("choices_unstated", lambda: "choice c = " + ", ".join(f"w{i}" for i in range(100_000)) + "\nkind k { a: c }\npart p is k { }\n"
     "rule r { for p: k, q: k need n: p.a = q.a }\nbuild b { fit p: p fit q: p2 }\npart p2 is k { }\n", 2)
many("words_of_a_choice", lambda: "choice c = " + ", ".join(f"w{i}" for i in range(50_000)) + "\nkind k { a: c }\npart p is k { a "
     + ", ".join(f"w{i}" for i in range(50_000)) + " }\nrule r { for p: k need n: p.a = w7 }\nbuild b { fit p: p }\n", 2)
many("places", lambda: PEG + "part x is peg { quantity 200000; size 1 mm }\nbuild b { place " + ", ".join(f"w{i}" for i in range(100_000))
     + "\nfit p: x at " + ", ".join(f"w{i}" for i in range(100_000)) + " }\n", 2)
many("fits", lambda: PEG + "part x is peg { quantity 100000; size 1 mm }\n" + rule("p.size <= 2 mm") + "build b { "
     + "\n".join(f"fit p{i}: x" for i in range(100_000)) + " }\n", 0, 4)
many("joins", lambda: "interface i { side a { x: length } side b { x: length } need n: a.x within 1 mm of b.x }\n"
     "kind k { face f: i.a }\nkind l { face f: i.b }\n" + "".join(f"part a{i} is k {{ f.x 1 mm }}\npart b{i} is l {{ f.x 1 mm }}\n" for i in range(50_000))
     + "build b { " + "\n".join(f"join a{i} + b{i}" for i in range(50_000)) + " }\n", 0, 2, 3)
many("layers", lambda: "interface i { one side a { x: length } many side b { x: length } need n: sum of b.x <= a.x }\n"
     "kind k { face f: i.a }\nkind l { face f: i.b }\npart a is k { f.x 1 km }\npart b is l { quantity 30000; f.x 1..2 mm }\nbuild z { place "
     + ", ".join(f"w{i}" for i in range(30_000)) + "\nfit a: a\nfit b: b at " + ", ".join(f"w{i}" for i in range(30_000))
     + "\njoin i j { a a b " + ", ".join(f"b.w{i}" for i in range(30_000)) + " } }\n", 0, 1, 2)
many("each", lambda: PEG + "part x is peg { quantity 1000000000000000000; size 1 mm }\nbuild b { fit p: x each 1000000000000000000 }\n", 2, 3)
many("each_too_large", lambda: PEG + "part x is peg { quantity 2; size 1 mm }\nbuild b { fit p: x each 1e399 }\n", 1, 2, 3)
many("waivers", lambda: judged("p.size <= 1 mm").replace("build b {", "build b {\n" + 'waive a on p because "x" until 2026-03-14\n' * 100_000), 0)
many("stages", lambda: judged("p.size <= 1 mm").replace("build b {", "build b {\n" + "\n".join(f"stage s{i} uses p" for i in range(100_000))), 2, 3)
many("builds", lambda: PEG + "part x is peg { size 1 mm }\n" + rule("p.size <= 2 mm") + "".join(f"build b{i} {{ fit p: x }}\n" for i in range(50_000)), 0)
many("trials", lambda: PEG + rule("p.size <= 2 mm") + "".join(f'trial "t{i}" {{ part x is peg {{ size 1 mm }} expect fits a }}\n' for i in range(10_000)),
     0, 4, verbs=("check", "trial"))
many("expects", lambda: PEG + rule("p.size <= 2 mm") + 'trial "t" { part x is peg { size 1 mm } ' + "expect fits a\n" * 50_000 + "}\n",
     0, 4, verbs=("check", "trial"))
many("requirements", lambda: PEG + "part x is peg { size 1..2 mm }\nrule r { for p: peg " + "\n".join(f"need n{i}: p.size <= {i} um" for i in range(50_000))
     + " }\nbuild b { fit p: x }\n", 1)
many("rules", lambda: PEG + "part x is peg { size 1..2 mm }\n" + "".join(rule(f"p.size <= {i} um", name=f"r{i}") for i in range(60_000))
     + "build b { fit p: x }\n", 1, 3)
many("variables_of_a_rule", lambda: judged("p.size >= 0 mm", variables="p: peg, " + ", ".join(f"q{i}: peg" for i in range(3000)), fits=20), 2)
many("groups", lambda: "".join(f"group g{i} {{ a{i}: length }}\n" for i in range(50_000)) + "kind k { " + "\n".join(f"with g{i}" for i in range(50_000)) + " }\n", 4)
many("holes_in_a_remedy", lambda: judged("p.size <= 0.5 mm").replace("0.5 mm }", '0.5 mm { remedy "' + "{p.size}" * 100_000 + '" } }'), 1, 3)
many("uses_of_one_file", lambda: {"main.build": 'use "a.rules"\n' * 500_000, "a.rules": PEG}, 4)
many("semicolons", lambda: ";" * (10 * MB), 3, 4)
many("comments", lambda: "#\n" * (5 * MB), 4)
many("blank_lines", lambda: "\r\n" * (5 * MB), 4)
many("quotes_on_lines", lambda: '"\n' * MB, 3)
many("open_texts", lambda: "part p \"a\n" * 300_000, 3)
many("texts_across_lines", lambda: 'kind k "' + "a\n" * (2 * MB) + '" { }\n', 3)


def main():
    import nasty as this  # the registry that the other files fill
    import nasty_bytes
    import nasty_work
    if len(sys.argv) == 3 and sys.argv[1] in this.ALL:
        this.write(this.ALL[sys.argv[1]], sys.argv[2])
    else:
        print("\n".join(this.ALL))


if __name__ == "__main__":
    sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "lib")]
    main()
