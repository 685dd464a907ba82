"""Writes a catalogue of made-up parts, the same content twice: as text for matchmark and as JSON.

    make_catalogue.py FOLDER PARTS [SEED]

writes catalogue_PARTS.parts and catalogue_PARTS.json. Every part has twelve attributes: quantities with spreads of
every form, counts, words, a designation, a text, a date, money, on the part and on its two faces, some with evidence.
In the JSON a quantity is an object with the same fields: value, unit, plus, minus or low, high, grade and note.
Nothing in it stands for anything: the names are numbers, the values come from a seeded generator.
"""
import json
import random
import sys
from pathlib import Path

HEAD = """# A catalogue of made-up parts for the benches. Not to be built.
currency CRD
choice finish_form = plain, blue, grey, clear
designation thread {
  form metric  "M{major: mm}x{pitch: mm}"
  form unified "{major: in}-{tpi: count}"
}
interface seat "part on part" {
  side inner { bore: length  depth: length in 0 mm..500 mm }
  side outer { rim: length }
}
kind item "made-up part" {
  face front: seat.inner optional
  face back: seat.outer optional
  span: length in 0 mm..2000 mm "end to end"
  load: force
  mass: mass
  holes: count
  finish: finish_form
  stud: thread
  limit: pressure
}
"""
GRADES = ["measured", "published", "claimed", "hearsay"]


def quantity(draw, low, high, unit):
    """A number with a spread in one of the written forms; the text and the JSON object."""
    value = round(draw.uniform(low, high), 2)
    form = draw.randrange(5)
    if form == 0:
        return f"{value} {unit}", {"value": value, "unit": unit}
    if form == 1:
        spread = round(value * 0.004 + 0.01, 2)
        return (f"{value} {unit} +- {spread} {unit}",
                {"value": value, "unit": unit, "plus": spread, "minus": spread})
    if form == 2:
        plus = round(value * 0.001 + 0.01, 3)
        return f"{value} {unit} +{plus} -0", {"value": value, "unit": unit, "plus": plus, "minus": 0}
    if form == 3:
        top = round(value * 1.02 + 0.1, 2)
        return f"{value}..{top} {unit}", {"low": value, "high": top, "unit": unit}
    return f">= {value} {unit}", {"low": value, "unit": unit}


def evidence(draw, text, value):
    if draw.randrange(3):
        return text, value
    grade = draw.choice(GRADES)
    text += f" per {grade}"
    value["grade"] = grade
    if draw.randrange(2):
        note = f"sheet {draw.randrange(1, 400)}"
        text += f' "{note}"'
        value["note"] = note
    return text, value


def part(draw, number):
    name = f"part_{number:06}"
    title = f"made-up part {number:06}"

    def measured(low, high, unit):
        return evidence(draw, *quantity(draw, low, high, unit))

    span, load = measured(40, 900, "mm"), measured(0.5, 40, "kN")
    mass, limit = measured(0.1, 9, "kg"), measured(0.5, 20, "MPa")
    bore, depth, rim = measured(10, 90, "mm"), measured(5, 60, "mm"), measured(0.5, 4, "in")
    holes, finish = draw.randrange(3, 9), draw.choice(["plain", "blue", "grey", "clear"])
    major = draw.randrange(4, 30)
    stud = draw.choice([f"M{major}x{draw.choice(['1.0', '1.25', '1.5'])}", f"{major % 4 + 1}/8-{draw.randrange(16, 33)}"])
    price = round(draw.uniform(1, 400), 2)
    back = f"2026-{draw.randrange(1, 13):02}-{draw.randrange(1, 29):02}"
    text = (f'part {name} "{title}" is item {{\n'
            f"  span {span[0]}\n  load {load[0]}\n  mass {mass[0]}\n  limit {limit[0]}\n"
            f'  holes {holes}\n  finish {finish}\n  stud "{stud}"\n'
            f"  price {price} CRD\n  return_by {back}\n"
            f"  front {{\n    bore {bore[0]}\n    depth {depth[0]}\n  }}\n"
            f"  back.rim {rim[0]}\n}}\n")
    value = {"name": name, "title": title, "kind": "item", "span": span[1], "load": load[1], "mass": mass[1],
             "limit": limit[1], "holes": holes, "finish": finish, "stud": stud,
             "price": {"value": price, "unit": "CRD"}, "return_by": back,
             "front": {"bore": bore[1], "depth": depth[1]}, "back": {"rim": rim[1]}}
    return text, value


def write(folder, count, seed=7):
    draw = random.Random(seed)
    folder = Path(folder)
    with open(folder / f"catalogue_{count}.parts", "w") as text, open(folder / f"catalogue_{count}.json", "w") as other:
        text.write(HEAD)
        other.write("[\n")
        for number in range(count):
            lines, value = part(draw, number)
            text.write(lines)
            other.write(json.dumps(value) + (",\n" if number + 1 < count else "\n"))
        other.write("]\n")


if __name__ == "__main__":
    write(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 7)
