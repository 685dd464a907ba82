"""A little text that asks for a great deal of work: doubling formulas, patterns, tables, quantifiers, settings, choices."""
from nasty import MB, PEG, judged, nasty, register, rule

STEPS = "more than 50000 steps"


LONG = ("long_let_line", "pattern_forms", "pattern_alternatives", "table_of_many_rows", "table_equal", "table_asked_by_a_table",
        "table_ranges", "table_membership", "reachable_chain", "matches_of_two", "reworks_of_many_parts", "knobs_many", "splits_long")


def work(name, text, *statuses, says=".", verbs=("check",), words=()):
    """Those that take long by their nature may also end by the limit on time; there it is a low one."""
    statuses = statuses or (0, 1, 2)
    if name in LONG:
        statuses, words = (*statuses, 4), ("--max-seconds", "1")
    register(name, text, says, *statuses, verbs=verbs, words=words)


# ---- doubling: each line calls the one before it twice

work("double_formulas", lambda: "formula f0(x: ratio): ratio = x\n" + "".join(f"formula f{i}(x: ratio): ratio = f{i - 1}(x) + f{i - 1}(x)\n" for i in range(1, 61))
     + judged("f60(p.free) > 0", "free 1"), 3, says=STEPS)
work("double_formula_arguments", lambda: "formula f0(x: ratio): ratio = x\n"
     + "".join(f"formula f{i}(x: ratio): ratio = f{i - 1}(f{i - 1}(x))\n" for i in range(1, 61)) + judged("f60(p.free) > 0", "free 1"), 3, says=STEPS)
work("double_formulas_unused", lambda: "formula f0(x: ratio): ratio = x\n"
     + "".join(f"formula f{i}(x: ratio): ratio = f{i - 1}(x) + f{i - 1}(x)\n" for i in range(1, 61)), 3, 4, says="steps|holds no build")
work("double_lets_of_a_rule", lambda: judged("a60 > 0", "free 1..2").replace("for p: peg need", "for p: peg let a0 = p.free "
     + " ".join(f"let a{i} = a{i - 1} + a{i - 1}" for i in range(1, 61)) + " need"), 0, 2, 3)
work("double_lets_of_a_kind", lambda: judged("p.a60 > 0", "free 1..2").replace("on: yes_no }", "on: yes_no  let a0 = free "
     + " ".join(f"let a{i} = a{i - 1} + a{i - 1}" for i in range(1, 61)) + " }"), 0, 2, 3)
work("power_lets", lambda: judged("a60 > 0", "free 1..2").replace("for p: peg need", "for p: peg let a0 = p.free "
     + " ".join(f"let a{i} = a{i - 1} * a{i - 1}" for i in range(1, 61)) + " need"), 0, 2, 3)
work("double_computed_fields", lambda: 'designation d { form f "{a0: count}" { ' + " ".join(f"a{i} = a{i - 1} + a{i - 1}" for i in range(1, 61))
     + ' } }\nkind k { s: d }\npart p is k { s "1" }\nrule r { for p: k need n: p.s.a60 > 0 }\nbuild b { fit p: p }\n', 0, 2, 3)
work("double_units", lambda: "unit u0 = 1e300 m\n" + "".join(f"unit u{i} = 1e300 u{i - 1}\n" for i in range(1, 200)) + judged("p.size < 1 u199", "size 1 mm"), 0, 3)
work("square_units", lambda: "unit u0 = 3 mm\n" + "".join(f"unit u{i} = 3 u{i - 1}*u{i - 1}\n" for i in range(1, 60)), 3, 4)
work("formula_circle", lambda: "".join(f"formula f{i}(x: ratio): ratio = f{(i + 1) % 20000}(x)\n" for i in range(20000)), 3, says="more than 100 levels deep")
work("long_formula_line", lambda: "formula f0(x: ratio): ratio = x\n" + "".join(f"formula f{i}(x: ratio): ratio = f{i - 1}(x) + 1\n" for i in range(1, 20000))
     + judged("f19999(p.free) > 0", "free 1"), 0, 3)
work("long_let_line", lambda: judged("a20000 > 0", "free 1").replace("for p: peg need", "for p: peg let a0 = p.free "
     + "\n".join(f"let a{i} = a{i - 1} + 1" for i in range(1, 20001)) + " need"), 0, 3)
work("tables_that_ask_tables", lambda: 'table t { a: mm b: mm 1 2 source "s" }\n' + "formula f0(x: length): length = t[a = x].b\n"
     + "".join(f"formula f{i}(x: length): length = t[a = f{i - 1}(x)].b + t[a = f{i - 1}(x)].b\n" for i in range(1, 40)) + judged("f39(p.size) > 0 mm"), 3, says=STEPS)

# ---- many of one sort, which would take a minute or more if each looked at all the others


def in_time(name, text, *statuses, verb="check"):
    register(name, text, ".", *statuses, verbs=(verb,), words=("--max-seconds", "12"))


def each(pattern, count):
    return "\n".join(pattern.format(i) for i in range(count))


in_time("fan_of_lets_of_a_kind", lambda: judged("p.size > 0 mm", "size 3 mm").replace("on: yes_no }", "on: yes_no\n" + each("let l{0} = size + {0} mm", 40_000) + " }")
        .replace(" need", "\n" + each("need n{0}: p.l{0} <= 3 mm", 40_000) + "\n need", 1), 1)
in_time("fan_of_lets_of_a_rule", lambda: judged("p.size > 0 mm", "size 3 mm")
        .replace(" need", "\n" + each("let l{0} = p.size + {0} mm", 40_000) + each("\nneed n{0}: l{0} <= 3 mm", 40_000) + "\n need", 1), 1)
work("long_alone", lambda: judged("max(" + ", ".join(["p.size"] * 60_000) + ") > 0 mm", "size 1 mm"), 3, says=r"50000 steps\s+\[program_too_long")
in_time("uses_of_missing_files", lambda: each('use "m{0}.rules"', 300_000), 3)
in_time("slips_of_one_line", lambda: judged("p.size > 0 mm", "size 1 mm ; " + "size 4 kg per measured ; " * 400_000), 3)
in_time("expect_that_many", lambda: PEG + 'trial "t" { ' + each("expect that {0} mm < 3 mm", 60_000) + " }\n", 1, verb="trial")
in_time("expect_on_many", lambda: PEG + rule("p.size <= 2 mm") + 'trial "t" { ' + each("part q{0} is peg {{ size 1 mm }} expect conflict a on q{0}", 30_000) + " }\n",
        1, verb="trial")
in_time("trials_many", lambda: PEG + rule("p.size <= 2 mm") + each('trial "t{0}" {{ part q is peg {{ size 1 mm }} expect fits a }}', 60_000), 0, verb="trial")
in_time("table_as_wide_as_can_be", lambda: "table t { " + each("c{0}: mm", 100_000) + " " + "1 " * 300_000 + "}\n" + judged("p.size > 0 mm", "size 3 mm"), 0)

in_time("forms_of_one_name", lambda: 'designation d "size" {\n' + 'form f "A{a: mm}" { b = a }\n' * 65_000 + "}\n" + judged("p.size > 0 mm", "size 3 mm"), 3)
in_time("forms_with_fields_of_their_own", lambda: 'designation d "size" {\n' + each('form f{0} "A{0}x{{a{0}: mm}}"', 65_000) + "}\n" + judged("p.size > 0 mm", "size 3 mm"), 0)

in_time("interface_of_many_sides", lambda: "interface j {\n" + each("side b{0} {{ w: length }}", 60_000) + each("\nneed n{0}: b1.w > {0} mm", 60_000)
        + each("\nlet l{0} = b1.w + {0} mm", 60_000) + " }\n" + judged("p.size > 0 mm", "size 3 mm"), 3)
in_time("rule_of_many_variables", lambda: PEG + "rule r { for " + ", ".join(f"b{i}: peg" for i in range(60_000)) + each("\nneed n{0}: b1.size > {0} mm", 60_000) + " }\n", 3)

HALVES = "kind k { v: count }\nrule r { for x: k\n" + each("need a{0}: x.v > 5\nneed b{0}: x.v < 3", 10_000) + " }\npart p is k { v 1 }\npart q is k { v 9 }\n"
in_time("no_choice_of_many_needs", lambda: HALVES + "build z { fit s: one of p, q }\n", 1)
in_time("no_way_out_of_many_needs", lambda: HALVES + 'build z { fit s: p\nrework W "swap" on s { v 9 } planned by "x" }\n', 1)
in_time("too_few_of_many_candidates", lambda: "kind k { v: count }\n" + each("part p{0} is k {{ v 1  quantity 1 }}", 2000) + "\nbuild z { place a, b\nfit s: one of "
        + ", ".join(f"p{i}" for i in range(2000)) + " at a, b }\n", 1)
in_time("rows_that_disagree", lambda: "table t { k: count  v: mm\n" + each("1 {0}", 200_000) + " }\n" + judged("t[k = p.n].v >= 5000.5 mm", "n 1"), 2)
in_time("rows_of_words", lambda: "table t { k: count  v: text\n" + each('{0} "w{0}"', 100_000) + ' }\nkind a { k: count  v: text }\n'
        'rule r { for x: a need q: t[k = x.k].v = x.v }\npart p is a { k ?  v "w77" }\nbuild b { fit p: p }\n', 2)
CHAIN = ("interface i { side l { } side r { }\n need z: yes = yes }\nkind a { face l: i.l optional\n face r: i.r optional\n }\nkind y { d: length face l: i.l }\n"
         "part p is a { quantity 100000 }\npart e is y { d 1 mm }\n")
register("reachable_counts_as_work", lambda: CHAIN + "rule r { for x: y need q: (count of b: a reachable from x through i) >= 1 }\nbuild b {\n" + each("fit f{0}: p", 30_000)
         + "\nfit e: e\n" + "\n".join(f"join f{i}.r + f{i + 1}.l" for i in range(29_999)) + "\njoin f29999.r + e.l\n }\n", "take more work", 2, words=("--max-work", "1"))
in_time("slots_varied_one_at_a_time", lambda: slots(2000, 10, "x.size > 0 mm").replace("rule r { for p: peg need a: x.size > 0 mm }", "rule r { need a: sum of x.size for x: peg <= 9 mm }"), 2, 1)
in_time("slot_of_many_that_differ", lambda: "kind k { v: length }\nrule r { for x: k need q: x.v > 5 mm }\n" + each("part p{0} is k {{ v {0} um }}", 60_000)
        + "\nbuild b { fit s: one of " + ", ".join(f"p{i}" for i in range(60_000)) + " }\n", 2)
in_time("waivers_of_everything", lambda: "kind a { d: length }\nrule r { for x: a need q: x.d <= 1 mm }\npart p is a { d 2 mm  quantity 100000 }\nbuild b {\n"
        + each("fit f{0}: p", 40_000) + "\n" + each('waive q because "x" until 2026-01-01', 40_000) + " }\n", 0, 1)

# ---- designations: patterns that can match in very many ways


def pattern(name, text, value, *statuses, kind="", says="."):
    work(f"pattern_{name}", lambda: f'designation d "{text}"\nkind k {{ s: d }}\npart p is k {{ s "{value}" }}\n{kind}build b {{ fit p: p }}\n',
         *(statuses or (2, 3)), says=says)


pattern("texts", "".join(f"{{a{i}: text}}" for i in range(40)) + "!", "a" * 5000)
pattern("words", "".join(f"{{a{i}: word}}" for i in range(40)) + "!", "a" * 5000)
pattern("numbers", "".join(f"{{a{i}: count}}" for i in range(40)) + "!", "1" * 5000)
pattern("optional", "[a]" * 5000 + "b", "a" * 5000)
pattern("optional_all", "[a]" * 5000, "a" * 2500)
pattern("empty_optional", "[]" * 5000 + "{a: count}", "1")
pattern("text_of_a_megabyte", "{a: text}-{b: text}-{c: text}x", "-" * MB)
pattern("letters", "{a: letter}" * 1, "A")
work("pattern_forms", lambda: "designation d { " + "\n".join(f'form f{i} "{{a: text}}{{b: text}}{{c: text}}x{i}y"' for i in range(20_000))
     + ' }\nkind k { s: d }\n' + "".join(f'part p{i} is k {{ s "{"x" * 300}" }}\n' for i in range(2000)), 3, 4)
work("pattern_alternatives", lambda: "designation d " + ", ".join(f'"{{a: text}}{{b: text}}x{i}y"' for i in range(20_000))
     + '\nkind k { s: d }\n' + "".join(f'part p{i} is k {{ s "{"x" * 300}" }}\n' for i in range(2000)), 3, 4)

# ---- tables

ROWS = "".join(f"{i} {i}\n" for i in range(100_000))
work("table_of_many_rows", lambda: f'table t {{ a: mm b: mm {ROWS} source "s" }}\n' + judged("t[a >= p.size].b > 0 mm", "size 0..99999 mm", fits=2000), 0, 2)
work("table_equal", lambda: f'table t {{ a: mm b: mm {ROWS} source "s" }}\n' + judged("t[a = p.size].b > 0 mm", "size 0..99999 mm", fits=300), 0, 2)
work("table_asked_by_a_table", lambda: f'table t {{ a: mm b: mm {ROWS} source "s" }}\n'
     + judged("t[a >= t[b >= t[a >= p.size].b].a].b > 0 mm", "size 0..99999 mm", fits=30), 0, 2)
work("table_split", lambda: f'table t {{ a: mm b: mm {ROWS} source "s" }}\n' + judged("t[a >= p.size].b - p.size <= 1.5 mm", "size 0..99999 mm"), 0, 2)
work("table_ranges", lambda: 'table t { a: mm range b: mm ' + "".join(f"0..{i} {i}\n" for i in range(1, 100_000)) + ' source "s" }\n'
     + judged("t[a = p.size].b > 0 mm", "size 0..99999 mm", fits=300), 0, 2)
work("table_of_many_columns", lambda: "table t { " + " ".join(f"c{i}: mm" for i in range(5000)) + "\n" + ("1 " * 5000 + "\n") * 100 + ' source "s" }\n', 4)
work("table_cells_unfinished", lambda: "table t { a: mm b: mm " + "1 " * (2 * MB + 1) + "}\n", 3, says="cells")
TOUCHING = "table t { k: ratio range  v: ratio " + "".join(f"{i / 1000}..{(i + 1) / 1000} {i}\n" for i in range(8000)) + ' source "s" }\n'
work("table_of_touching_rows", lambda: TOUCHING + judged(" or ".join(f"t[k = p.free + {i / 10} * p.size / 1 mm].v > 9000" for i in range(1, 6)) + " or p.free in t",
                                                         "size 0..1 mm  free 1..3", fits=40), 0, 2)
work("table_membership", lambda: f'table t {{ a: mm b: mm {ROWS} source "s" }}\n' + judged("(p.size, p.size) in t", "size 0..99999 mm", fits=300), 0, 2)

# ---- quantifiers over thousands of parts

EVERY = "every {0}: peg has ({1})"


def nested(word, depth, test, fits):
    for level in range(depth - 1, -1, -1):
        test = f"{word} v{level}: peg has ({test})"
    return judged(test, "size 1..2 mm", fits=fits)


work("every_of_every", lambda: nested("every", 3, "v0.size + v1.size + v2.size >= 3 mm", 3000))
work("some_of_some", lambda: nested("some", 3, "v0.size + v1.size + v2.size >= 9 mm", 150))
work("every_six_deep", lambda: nested("every", 6, "v0.size + v1.size + v5.size >= 3 mm", 15))
work("every_twenty_deep", lambda: nested("every", 20, "v0.size >= 1 mm", 12))
work("sum_of_sums", lambda: judged("sum of (sum of (sum of z.size for z: peg) for y: peg) for x: peg > 1 mm", fits=100))
work("count_in_count", lambda: judged("count of x: peg where count of y: peg where count of z: peg where z.size <= y.size > 3 > 3 > 3", fits=1000), 0, 1, 2, 3)
work("quantifier_of_each", lambda: judged("every q: peg has sum of z.size for z: peg >= q.size", fits=300))
work("ranges_in_ranges", lambda: judged("every a in 0..1 has every b in 0..1 has every c in 0..1 has every d in 0..1 has a * b + c * d - a * c - b * d + p.free <= 4",
                                        "free 0..1"), 0, 2)
work("ranges_nine_deep", lambda: judged(" ".join(f"every v{i} in 0..1 has" for i in range(9)) + " " + " + ".join(f"v{i} * (1 - v{(i + 1) % 9})" for i in range(9))
                                        + " <= p.free", "free 4..6"), 0, 1, 2)


def lets(pattern, count, test):
    """A kind whose lets m1, m2, ... are made of the one before."""
    steps = "\n".join(pattern.format(i, i - 1) for i in range(1, count + 1))
    return (f"kind tall {{ free: ratio\nlet m0 = free\n{steps} }}\npart t is tall {{ free 0..3 }}\nbuild z {{ fit t: t }}\n"
            f"rule r {{ for p: tall need a: {test} }}\n")


in_time("greatest_of_greatest", lambda: lets("let m{0} = max(m{1}, m{1} * m{1})", 8, "p.m8 <= 2"), 0, 1, 2)
in_time("if_within_if", lambda: lets("let m{0} = (if m{1} > 0.5 then m{1} - 0.5 else m{1}) + (if free < {0} / 60 then 1 else free)", 7, "p.m7 <= 2"), 0, 1, 2)
work("if_for_each_part", lambda: judged("every q: peg has every s: peg has (if q.free > s.free then q.free - s.free else s.free - q.free) * p.free >= 0",
                                        "free 0..3", fits=24), 0, 2)
work("range_without_end", lambda: judged("every z in 0..1e99 has sin(z * 1 rad) * z <= p.free", "free 1..2"), 0, 1, 2, 3)
work("reachable_chain", lambda: "interface i { side a { x: length } side b { x: length } }\nkind k { face f: i.a  face g: i.b }\n"
     "part k1 is k { quantity 3000 }\nbuild z { place " + ", ".join(f"w{i}" for i in range(3000)) + "\nfit k: k1 at " + ", ".join(f"w{i}" for i in range(3000)) + "\n"
     + "\n".join(f"join k.w{i}.f + k.w{i + 1}.g" for i in range(2999))
     + " }\nrule r { for p: k need a: every q: k reachable from p through i has count of s: k reachable from q through i > 0 }\n", 0, 1, 2, 3)

# ---- matches, versions, settings, candidates

work("matches_of_four", lambda: judged("p.size <= q.size", fits=3000, variables="p: peg, q: peg, s: peg, t: peg"), 2, says="--max-matches")
work("matches_of_two", lambda: judged("p.size <= q.size + s.size", fits=950, variables="p: peg, q: peg").replace("+ s.size", "+ 1 mm"), 0)
work("where_of_four", lambda: judged("p.size > 0 mm", fits=3000, variables="p: peg, q: peg, s: peg, t: peg where p.size + q.size + s.size + t.size < 0 mm"), 2, says="--max-matches")

work("values_read_by_all_as_json", lambda: judged("every q: peg has p.size + q.size > 0 mm", "size 1..3 mm", fits=700), 0, words=("--json",))


def slots(count, candidates, test, attribute="size 1..{0} mm"):
    return (PEG + "".join(f"part c{i} is peg {{ quantity 1000; {attribute.format(i + 2)} }}\n" for i in range(candidates)) + rule(test)
            + "build b { " + "\n".join(f"fit s{i}: one of " + ", ".join(f"c{j}" for j in range(candidates)) for i in range(count)) + " }\n")


work("slot_of_many", lambda: slots(1, 5000, "p.size <= 9 mm"), 0, 1, 2)
work("slots_together", lambda: slots(40, 12, "sum of q.size for q: peg >= 30 mm"), 0, 1, 2)
work("slots_apart", lambda: slots(100, 40, "p.size <= 9 mm"), 0, 1, 2)
work("slots_in_pairs", lambda: slots(60, 12, "every q: peg has q.size <= p.size + 20 mm"), 0, 1, 2)

work("reworks", lambda: judged("p.size <= 1 mm").replace("fit p: peg_1", "fit p: peg_1\n" + "\n".join(
    f'rework R{i} "grind" on p {{ size {i} mm }} planned by "x"' for i in range(500))), 3, says="reworks")
work("reworks_done", lambda: judged("p.size <= 1 mm").replace("fit p: peg_1", "fit p: peg_1\n" + "\n".join(
    f'rework R{i} "grind" on p {{ size {i} mm }} done by "x"' for i in range(500))), 0, 1, 2, 3)
work("reworks_of_many_parts", lambda: judged("sum of q.size for q: peg <= 1 mm", fits=200).replace("quantity 200;", "quantity 200;") .replace(
    " }\n", " }\n", 1).replace("build b { ", "build b { ") [:-2] + "\n".join(
    f'rework R{i}_{j} "grind" on p.at{i} {{ size {j} mm }} planned by "x"' for i in range(200) for j in range(6)) + " }\n", 0, 1, 2, 3)


def knob(text, test="p.size within 0.1 mm of 33 mm", before="", fits=1):
    return judged(test, f"size adjustable {text}", before, fits)


work("sums_explode", lambda: knob("sums of 1000 x 1 mm, 1000 x 1.001 mm, 1000 x 1.00001 mm, 1000 x 1.0000001 mm"), 3, says="more than 10000 ways")
work("sums_without_end", lambda: knob("sums of 1000000000000 x 1 mm"), 3, says="more than 10000 ways")
work("sums_of_many_sizes", lambda: knob("sums of " + ", ".join(f"1 x {i} um" for i in range(1, 5000))), 0, 1, 2, 3)
work("sums_of_nothing", lambda: knob("sums of 1000000000000 x 0 mm"), 3, says="more than 10000 ways")
work("sums_equal", lambda: knob("sums of " + ", ".join("9 x 1 mm" for i in range(1, 5000))), 0, 1, 2, 3)
work("step_tiny", lambda: knob("0..1e90 mm step 1e-90 mm"), 0, 2, 3)
work("step_zero", lambda: knob("0..1 mm step 0 mm"), 3, says="more than 0")
work("step_backwards", lambda: knob("0..1 mm step -1 mm"), 3, says="more than 0")
work("settings_many", lambda: knob("one of " + ", ".join(f"{i} um" for i in range(100_000))), 0, 1, 2, 3)
work("knobs_many", lambda: knob("sums of 99 x 0.1 mm, 99 x 0.01 mm", "sum of q.size for q: peg within 0.01 mm of 33.333 mm", fits=200), 0, 1, 2)

# ---- splitting: values that occur twice, in number

ADD = " + ".join
work("splits_many", lambda: judged(ADD(f"(q{i}.size / (q{i}.size + p.size))" for i in range(8)) + " >= 3.9", "size 1..2 mm", fits=9,
                                   variables="p: peg, " + ", ".join(f"q{i}: peg" for i in range(8))), 0, 1, 2)
work("splits_long", lambda: judged("sum of (q.size / (q.size + p.size)) for q: peg >= 500", "size 1..2 mm", fits=1000), 0, 1, 2)
work("splits_of_all", lambda: judged("p.size * (5 mm - p.size) within 0.01 mm^2 of q.size * (5 mm - q.size)", "size 1..4 mm", fits=100, variables="p: peg, q: peg"), 0, 1, 2)
work("waves", lambda: judged(ADD(f"sin({i} * p.turn)" for i in range(1, 60)) + " <= 50", "turn 0..100000 deg"), 0, 1, 2)
work("steps_of_whole_numbers", lambda: judged(ADD(f"floor({i} * p.free)" for i in range(1, 60)) + " <= 50000", "free 0..1000"), 0, 1, 2)
work("conflict_sets", lambda: PEG + "part x is peg { size >= 0 mm  free >= 0 }\nrule r { for p: peg " + "\n".join(
    f"need a{i}: p.size * p.free + {i} mm >= {7 * i % 31} mm\nneed b{i}: p.size / (p.free + {i + 1}) <= {11 * i % 37} mm" for i in range(400)) + " }\nbuild b { fit p: x }\n", 1, 2)
work("conflict_sets_of_pairs", lambda: judged("p.size + 1 mm <= q.size", "size ?", fits=150, variables="p: peg, q: peg").replace("size: length", "size: length in 0 mm..100 mm"), 1, 2)
work("open_values", lambda: judged("p.size * q.size <= 3 mm^2", "size ?", fits=100, variables="p: peg, q: peg").replace("size: length", "size: length in 0 mm..100 mm"), 2)
