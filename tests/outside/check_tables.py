"""Tables of rules/standards against what they are computed from, by formulas of their standards (from memory) and with
the differences that the standards' own rounding makes. A slip of the pen in a row shows here. Takes any argument."""
import math
import re
import sys
from pathlib import Path

FOLDER = Path(__file__).resolve().parents[2] / "rules" / "standards"
R40 = [100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280, 300, 315, 335, 355,
       375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850, 900, 950]
wrong = []
checked = 0


def check(holds, text):
    global checked
    checked += 1
    if not holds:
        wrong.append(text)


def table(file, name):
    """Rows of numbers by column; ? is None."""
    text = (FOLDER / file).read_text(encoding="utf-8")
    body = re.search(rf'^table {name} "[^"]*" \{{\n(.*?)^  source', text, re.M | re.S).group(1)
    columns = re.findall(r"(\w+): [\w^/*]+", body)
    cells = re.findall(r"(?<![\w.])-?[\d.]+(?![\w.])|\?", re.sub(r"\w+: [\w^/*]+", "", body))
    assert columns and len(cells) % len(columns) == 0, name
    numbers = [None if cell == "?" else float(cell) for cell in cells]
    return [dict(zip(columns, numbers[i:i + len(columns)])) for i in range(0, len(numbers), len(columns))]


def steps_apart(value, computed):
    """Whole steps of the R40 series between two numbers."""
    def place(x):
        power = math.floor(math.log10(x))
        scaled = x / 10 ** power * 100
        return 40 * power + min(range(41), key=lambda i: abs(math.log((R40 + [1000])[i] / scaled)))
    return abs(place(value) - place(computed))


def tolerance_grades():
    """ISO 286-1: i = 0.45 cbrt(D) + 0.001 D, IT5 = 7 i and so on. The first step is larger than its formula."""
    factors = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100, 12: 160, 13: 250, 14: 400, 15: 640, 16: 1000, 17: 1600, 18: 2500}
    below = 1
    for row in table("fit_tables.rules", "tolerance_grade"):
        unit = 0.45 * (below * row["upto"]) ** (1 / 6) + 0.001 * math.sqrt(below * row["upto"])
        for grade, factor in factors.items():
            share = 0.17 if row["upto"] == 3 else 0.06
            value = row[f"it{grade}"]
            check(abs(value - factor * unit) <= max(share * factor * unit, 0.75), f"IT{grade} up to {row['upto']}: {value}")
        below = row["upto"]


def deviations():
    """ISO 286-1 formulas of s to zc from 10 mm up, where the tables follow them; IT7 to IT10 are read from the table."""
    grades = table("fit_tables.rules", "tolerance_grade")
    over = {"t": 0.63, "u": 1, "v": 1.25, "x": 1.6, "y": 2, "z": 2.5}
    tail = {"za": ("it8", 3.15), "zb": ("it9", 4), "zc": ("it10", 5)}
    below = 1
    for row in table("fit_tables.rules", "deviation_tight"):
        size = math.sqrt(below * row["upto"])
        grade = next(g for g in grades if g["upto"] >= row["upto"])
        if row["upto"] > 30:
            for letter, factor in over.items():
                computed = grade["it7"] + factor * size
                check(row[letter] is None or abs(row[letter] - computed) <= 0.06 * computed, f"{letter} up to {row['upto']}")
            for letter, (base, factor) in tail.items():
                computed = grade[base] + factor * size
                check(abs(row[letter] - computed) <= 0.06 * computed, f"{letter} up to {row['upto']}")
        below = row["upto"]


def thread_tolerances():
    """ISO 965-1: Td2(6) = 90 P^0.4 d^0.1, TD2(6) = 1.32 of that, the other grades by R10; rounded to R40 and smoothed."""
    lower = {2.8: 1.4, 5.6: 2.8, 11.2: 5.6, 22.4: 11.2, 45: 22.4, 90: 45, 180: 90}
    shares = {"external": {3: 0.5, 4: 0.63, 5: 0.8, 6: 1, 7: 1.25, 8: 1.6, 9: 2},
              "internal": {4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12}}
    for side, grades in shares.items():
        for row in table("thread_tolerances.rules", f"{side}_pitch_tolerance"):
            base = 90 * row["pitch"] ** 0.4 * math.sqrt(lower[row["upto"]] * row["upto"]) ** 0.1
            for grade, share in grades.items():
                value = row[f"g{grade}"]
                check(value is None or steps_apart(value, base * share) <= 1, f"{side} {row} grade {grade}")


def load_indexes():
    """ISO 4000-1: 45 kg times 10^(n/80), rounded within two percent; every 80 steps are a factor of ten."""
    rows = {int(row["index"]): row["load"] for row in table("load_index.rules", "load_index")}
    check(sorted(rows) == list(range(211)), "load indexes 0 to 210")
    for index, load in rows.items():
        check(abs(load / (45 * 10 ** (index / 80)) - 1) <= 0.02, f"load index {index}: {load}")
        if index + 80 in rows:
            check(abs(rows[index + 80] - 10 * load) <= max(5, 0.002 * load * 10), f"load index {index + 80}")


def threads():
    """A tap drill is the major diameter less the pitch, to a usual drill; a number of threads gives the inch ones."""
    for row in table("tap_drills.rules", "tap_drill"):
        check(abs(row["drill"] - (row["major"] - row["pitch"])) <= 0.06, f"tap drill {row}")
    for row in table("tap_drills.rules", "tap_drill_unified"):
        check(abs(row["drill"] - 25.4 * (row["major"] - 1 / row["tpi"])) <= max(0.15, 0.04 * row["drill"]), f"tap drill {row}")


def bearings():
    """ISO 15: two figures after the series give the bore; rings grow with the bore within a series."""
    last = {}
    for row in table("bearing_sizes.rules", "ball_bearing_size"):
        number = int(row["number"])
        series, code = (number // 10, None) if number < 1000 else (number // 100, number % 100)
        bore = number % 10 if code is None else {0: 10, 1: 12, 2: 15, 3: 17}.get(code, 5 * code)
        check(row["bore"] == bore, f"bearing {number}: bore {row['bore']}")
        check(row["outside"] > last.get((series, code is None), 0), f"bearing {number}: outside {row['outside']}")
        last[series, code is None] = row["outside"]


def main():
    for test in (tolerance_grades, deviations, thread_tolerances, load_indexes, threads, bearings):
        test()
    for line in wrong:
        print(line)
    print(f"{checked} cells computed, {len(wrong)} wrong")
    return 1 if wrong or checked < 1000 else 0


if __name__ == "__main__":
    sys.exit(main())
