"""Bytes that are no text, numbers that are none, files that name each other, and texts broken at random."""
import random

from nasty import MB, PEG, judged, nasty, register, rule
from outcome import ROOT

TEXT = (ROOT / "examples/01_first_fit.build").read_bytes()


def raw(name, make, *statuses, says="main.build:", verbs=("check", "tidy")):
    register(f"bytes_{name}", make, says, *(statuses or (3,)), verbs=verbs)


raw("empty", lambda: b"", 0, 4, says="")
raw("nulls", lambda: b"\0" * (10 * MB), says="zero byte")
raw("null_at_the_end", lambda: TEXT + b"\0", says="zero byte")
raw("latin1", lambda: TEXT.replace(b"tow ball", b"tow b\xe4ll"), says="not UTF-8")
raw("latin1_of_ten_megabytes", lambda: b"\xe4" * (10 * MB), says="not UTF-8")
raw("bom", lambda: b"\xef\xbb\xbf" + TEXT, 0, 1, says="garden_trailer")
raw("bom_twice", lambda: b"\xef\xbb\xbf" * 2 + TEXT)
raw("crlf", lambda: TEXT.replace(b"\n", b"\r\n"), 0, 1, says="garden_trailer")
raw("cr", lambda: TEXT.replace(b"\n", b"\r"), 0, 3, 4, says="main.build|part|interface")
raw("utf16_little", lambda: TEXT.decode().encode("utf-16"), says="zero byte|not UTF-8")
raw("utf16_big", lambda: b"\xfe\xff" + TEXT.decode().encode("utf-16-be"), says="zero byte|not UTF-8")
raw("utf32", lambda: TEXT.decode().encode("utf-32"), says="zero byte|not UTF-8")
raw("utf7", lambda: "kind käfer { }".encode("utf-7"), 0, 3, 4, says=".")
raw("cut_off", lambda: "kind arm \"€".encode()[:-1], says="not UTF-8")
raw("overlong", lambda: b"# \xc0\xaf\n", says="not UTF-8")
raw("surrogate", lambda: b"# \xed\xa0\x80\n", says="not UTF-8")
raw("beyond_unicode", lambda: b"# \xf4\x90\x80\x80\n", says="not UTF-8")
raw("escapes", lambda: b"\x1b[2J" * (2 * MB))
raw("deletes", lambda: b"\x7f" * (10 * MB))
raw("bidirectional", lambda: "\u202e".encode() * (3 * MB))
raw("combining", lambda: "part a\u0301".encode() + "\u0301".encode() * (4 * MB))
raw("wide", lambda: "\U0001f6de".encode() * (2 * MB))
raw("random", lambda: random.Random(1).randbytes(10 * MB), says="zero byte|not UTF-8")
raw("printable_random", lambda: bytes(random.Random(2).choices(range(32, 127), k=2 * MB)))
raw("line_of_ten_megabytes", lambda: "kind arm { reach: length } # " + "x" * (10 * MB) + "\nkind leg { reach: lenght }\n", says="lenght", verbs=("check",))
raw("text_of_ten_megabytes", lambda: PEG + f'part p "{"x" * (10 * MB)}" is peg {{ }}\nbuild b {{ fit p: p }}\n', 0, 2, says=".", verbs=("check", "tidy"))
raw("quotes_behind_a_slip", lambda: PEG + "part a is peg { " + "' ' " * (2 * MB) + "}\n")
raw("open_quotes_behind_a_slip", lambda: PEG + "part a is peg { " + "`x " * (2 * MB) + "}\n")
raw("name_of_ten_megabytes", lambda: PEG + f'part {"p" * (5 * MB)} is peg {{ }}\nbuild b {{ fit p: {"p" * (5 * MB)} }}\n', 0, 2, says=".", verbs=("check", "tidy"))
raw("unknown_name_of_megabytes", lambda: PEG + f'part p is {"p" * (10 * MB)} {{ }}\n', says="no kind", verbs=("check",))
raw("number_of_ten_megabytes", lambda: PEG + f'part p is peg {{ n {"1" * (10 * MB)} }}\n', says="too large|too long", verbs=("check",))
raw("decimals_of_ten_megabytes", lambda: PEG + f'part p is peg {{ n 1.{"1" * (10 * MB)} }}\n', says="too large|too long", verbs=("check",))
raw("fraction_of_ten_megabytes", lambda: PEG + f'part p is peg {{ size 1/{"1" * (10 * MB)} mm }}\n', says="too large|too long", verbs=("check",))
raw("unit_of_ten_megabytes", lambda: PEG + f'part p is peg {{ size 1 mm{"*mm" * (3 * MB)} }}\n', says=".", verbs=("check",))
raw("path_of_ten_megabytes", lambda: PEG + f'part p is peg {{ size{".size" * (2 * MB)} 1 mm }}\n', says="names", verbs=("check",))
raw("blanks_of_ten_megabytes", lambda: " " * (10 * MB) + "kind", says="main.build:", verbs=("check",))
raw("sixty_megabytes_of_parts", lambda: PEG + "".join(f"part p{i} is peg {{ size {i} mm }}\n" for i in range(250_000)), 0, 4, says=".", verbs=("check",))
raw("many_long_messages", lambda: "".join(f'part p is {"k" * 5000}{i} {{ }}\n' for i in range(2000)), says="no kind", verbs=("check",))

# ---- numbers


def number(name, text, *statuses, says=".", attribute="free"):
    register(f"number_{name}", lambda: judged(f"p.{attribute} > 0", f"{attribute} {text}"), says, *(statuses or (3,)))


number("1e400", "1e400", says="too large")
number("1e_minus_400", "1e-400", 0, 3)
number("1e99999999999999999999", "1e99999999999999999999", says="too large")
number("1e_minus_99999999999999999999", "1e-99999999999999999999")
number("1e399", "1e399", 0, 2, 3)
number("over_zero", "1/0 percent", says="divides by zero")
number("0e999999999", "0e999999999", 0, 1, 3)
number("count_1e30", "1e30", 0, 2, 3, attribute="n")
number("minus_zero", "-0", 0, 1, 2)
number("range_of_all", "-1e399..1e399", 0, 1, 2, 3)


def term(name, text, *statuses, says=".", sheet="free 1..2"):
    register(f"term_{name}", lambda: judged(text, sheet), says, *(statuses or (0, 1, 2)), verbs=("check", "why"))


term("power_tower", "10 ^ 10 ^ 10 > 1", 0, 2, 3)
term("power_tower_of_five", "p.free ^ 9 ^ 9 ^ 9 ^ 9 > 1", 0, 2, 3)
term("power_million", "p.free ^ 1000000 > 1")
term("power_minus_million", "p.free ^ -1000000 > 1")
term("power_of_both", "p.free ^ p.free ^ p.free ^ p.free > 1", 0, 2, 3)
term("power_fraction", "p.free ^ 0.333333333333333333333333333333 > 1")
term("power_of_exact", "(1 + 1e-300) ^ 1000000000 > 1", 0, 1, 2, 3)
term("power_of_length", "(p.size ^ 1000000) > 1 mm", 3, sheet="size 1 mm")
term("exp_billion", "exp(1000000000 * p.free) > 1")
term("exp_of_exp", "exp(exp(exp(exp(exp(p.free))))) > 1")
term("ln_of_little", "ln(1e-300 ^ 99) < p.free", 0, 1, 2, 3)
term("sine_of_much", "sin(1e300 rad * p.free) <= 1", 0, 2)
term("sine_of_exact_much", "sin(1e300 rad) <= p.free", 0, 2)
term("tangent_at_the_pole", "tan(90 deg) > p.free")
term("roots", "sqrt(" * 60 + "p.free" + ")" * 60 + " > 1")
term("over_nothing", "1 / (p.free - p.free) > 1", 2)
term("over_zero_range", "1 / (p.free - 1.5) > 1", 2)
term("zero_to_zero", "(p.free - p.free) ^ (p.free - p.free) >= 0", 0, 1, 2)
term("long_decimals", "p.free * 1." + "3" * 390 + " > 1 and p.free / 0." + "7" * 390 + " > 1")
term("huge_floor", "floor(p.free * 1e300) > round(p.free * 1e299)")
term("nested_abs_max", "max(" + ", ".join(f"abs(p.free - {i})" for i in range(2000)) + ") > 1", 0, 2, 3)

# ---- files that use each other


@nasty("circle", 3)
def use_itself():
    return 'use "main.build"\n'


@nasty("circle", 3)
def use_circle_of_many():
    return {"main.build": 'use "f0.rules"\n'} | {f"f{i}.rules": f'use "f{(i + 1) % 900}.rules"\n' for i in range(900)}


@nasty("more than 1000 files", 3)
def use_chain_of_many():
    return {"main.build": 'use "f0.rules"\n'} | {f"f{i}.rules": f'use "f{i + 1}.rules"\n' for i in range(1500)}


@nasty("circle", 3)
def use_all_of_all():
    everybody = "".join(f'use "f{i}.rules"\n' for i in range(200))
    return {"main.build": everybody} | {f"f{i}.rules": everybody for i in range(200)}


@nasty("holds no build", 4)
def use_all_that_follow():
    return {"main.build": 'use "f0.rules"\n'} | {f"f{i}.rules": "".join(f'use "f{j}.rules"\n' for j in range(i + 1, 300)) for i in range(300)}


@nasty("no such file|leads outside", 3)
def use_what_is_not():
    return "".join(f'use "f{i}.rules"\n' for i in range(50_000))


@nasty("leads outside|no such file|too long|name", 3)
def use_a_long_path():
    return f'use "{"a/" * 500_000}b.rules"\nuse "{"../" * 500_000}b.rules"\nuse "{"a" * MB}"\n'


# ---- texts broken at random: a right text with pieces cut, doubled, moved and replaced

WORDS = [word for path in sorted((ROOT / "examples").glob("*.*")) if path.is_file() for word in path.read_text(encoding="utf-8").split()]


def broken(seed):
    draw = random.Random(seed)
    paths = sorted(path for path in (ROOT / "examples").glob("*.*") if path.is_file())
    text = draw.choice(paths).read_text(encoding="utf-8")
    for _ in range(draw.randint(1, 12)):
        at, end = sorted(draw.randrange(len(text) + 1) for _ in range(2))
        piece = text[at:min(end, at + 200)]
        how = draw.randrange(5)
        if how == 0:
            text = text[:at] + text[at + len(piece):]
        elif how == 1:
            text = text[:at] + piece * draw.randint(1, 4) + text[at:]
        elif how == 2:
            text = text[:at] + draw.choice("{}()[]\"\\#;:,.=+-*/^<>?\n") + text[at:]
        elif how == 3:
            text = text[:at] + " " + draw.choice(WORDS) + " " + text[at:]
        else:
            text = text[:at]
    return text


for number_of in range(40):
    register(f"broken_{number_of}", lambda seed=number_of: broken(seed), "", 0, 1, 2, 3, 4, verbs=("check", "trial", "tidy"))
for number_of in range(6):
    register(f"words_{number_of}", lambda seed=number_of: " ".join(random.Random(seed).choices(WORDS, k=200_000)), "main.build:", 3)
