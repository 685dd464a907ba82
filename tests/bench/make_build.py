"""Writes a made-up build of many joints with eight requirements each, for matchmark and for its peers.

    make_build.py FOLDER JOINTS [SEED]

writes build_JOINTS/joints.build (with joints.parts and joints.rules beside it), joints.csv (one line a joint, bounds as
whole numbers, -1 for missing) and joints.lp (facts for clingo). Lengths are in hundredths of a millimetre, forces in
tenths of a newton, the gain in tenths. The last line that it prints is what every engine must find: how many of the
requirements fit, conflict and are unknown, computed here with whole numbers. Values that would touch a limit to within
the rounding of doubles cannot occur: all bounds are whole numbers and compared as such, and limits lie between them.
"""
import random
import sys
from pathlib import Path

RULES = """# Eight requirements on a made-up joint, for the benches. Not to be built.
choice finish_form = plain, blue, grey
designation thread "M{major: mm}x{pitch: mm}"
formula pull_of(gain: ratio, one: force, other: force) : force = gain * sqrt(one * other)
interface seat "pin through a pack into a base" {
  one side pin { holes: count  circle: length  pilot: length  stud: thread  gain: ratio  pull: force
                 reach: length  grip: length  finish: finish_form }
  one side base { holes: count  circle: length  bore: length  stud: thread  pull: force  limit: force
                  grip: length  finish: finish_form }
  many side layer { thickness: length }
  need same_holes: pin.holes = base.holes
  need same_circle: pin.circle within 0.205 mm of base.circle
  need clearance: base.bore - pin.pilot >= 0.055 mm
  need same_stud: pin.stud = base.stud
  need pull: pull_of(pin.gain, pin.pull, base.pull) <= base.limit
  need engagement: pin.reach - sum of layer.thickness >= 2.005 mm
  need grip: pin.grip >= base.grip
  need same_finish: pin.finish = base.finish
}
kind pin_kind { face tip: seat.pin }
kind base_kind { face well: seat.base }
kind pack_kind { face l0, l1, l2, l3, l4, l5, l6, l7, l8, l9: seat.layer }
"""
FINISHES = ["plain", "blue", "grey"]


def spread(draw, low, high, width):
    value = draw.randrange(low, high)
    return value, value + draw.randrange(0, width)


def verdict(least, most, limit):
    """Of `value <= limit` where the value lies in least..most."""
    return "fits" if most <= limit else "conflict" if least > limit else "unknown"


def joint(draw):
    j = {"holes": (draw.choice([4, 5, 5, 5]), draw.choice([5, 5, 5, 6]))}
    j["circle"] = spread(draw, 10000, 10020, 8), spread(draw, 10000, 10020, 8)
    j["pilot"], j["bore"] = spread(draw, 6000, 6010, 5), spread(draw, 6004, 6030, 5)
    j["stud"] = (draw.choice([10, 12, 12, 12]), draw.choice([100, 150, 150])), (12, draw.choice([125, 150, 150]))
    j["gain"], j["pull"] = spread(draw, 20, 90, 8), (spread(draw, 50, 250, 20), spread(draw, 50, 250, 20))
    j["limit"] = draw.randrange(9000, 36000, 10)  # hundredths of a newton
    j["layers"] = [spread(draw, 90, 120, 3) for _ in range(10)]
    j["reach"] = spread(draw, 1180, 1400, 6)
    j["grip"] = (None if draw.randrange(10) < 3 else spread(draw, 900, 1100, 9)), spread(draw, 900, 1000, 9)
    j["finish"] = draw.choice(FINISHES), (None if draw.randrange(5) == 0 else draw.choice(FINISHES[:2]))
    return j


def judge(j):
    equal = lambda a, b: "unknown" if a is None or b is None else "fits" if a == b else "conflict"
    (a, b), (c, d) = j["circle"]
    apart_most, apart_least = max(b - c, d - a), max(a - d, c - b, 0)
    out = [equal(*j["holes"]), verdict(apart_least, apart_most, 20.5)]
    out.append(verdict(j["pilot"][0] - j["bore"][1], j["pilot"][1] - j["bore"][0], -5.5))
    out.append(equal(*j["stud"]))
    square = lambda i: j["gain"][i] ** 2 * j["pull"][0][i] * j["pull"][1][i]
    out.append(verdict(square(0), square(1), j["limit"] ** 2))
    low, high = sum(p[0] for p in j["layers"]), sum(p[1] for p in j["layers"])
    out.append(verdict(low - j["reach"][1], high - j["reach"][0], -200.5))
    one, other = j["grip"]
    out.append("unknown" if one is None else verdict(other[0] - one[1], other[1] - one[0], 0))
    out.append(equal(*j["finish"]))
    return out


def decimal(value, places):
    return f"{value / 10 ** places:.{places}f}"


def span(pair, places, unit):
    if pair[0] == pair[1]:
        return f"{decimal(pair[0], places)} {unit}".rstrip()
    return f"{decimal(pair[0], places)}..{decimal(pair[1], places)} {unit}".rstrip()


def stud(pair):
    return f'"M{pair[0]}x{decimal(pair[1], 2)}"'


def parts_of(i, j):
    grip, finish = j["grip"], j["finish"]
    layers = "  ".join(f"l{k}.thickness {span(p, 2, 'mm')}" for k, p in enumerate(j["layers"]))
    lines = [f"part pin_{i} is pin_kind {{ tip {{", f"  holes {j['holes'][0]}; circle {span(j['circle'][0], 2, 'mm')}",
             f"  pilot {span(j['pilot'], 2, 'mm')}  stud {stud(j['stud'][0])}  gain {span(j['gain'], 1, '')};",
             f"  pull {span(j['pull'][0], 1, 'N')}  reach {span(j['reach'], 2, 'mm')}  finish {finish[0]}"]
    if grip[0]:
        lines.append(f"  grip {span(grip[0], 2, 'mm')}")
    lines += ["} }", f"part base_{i} is base_kind {{ well {{",
              f"  holes {j['holes'][1]}; circle {span(j['circle'][1], 2, 'mm')}  bore {span(j['bore'], 2, 'mm')}",
              f"  stud {stud(j['stud'][1])}  pull {span(j['pull'][1], 1, 'N')}  limit {decimal(j['limit'], 2)} N",
              f"  grip {span(grip[1], 2, 'mm')}"]
    if finish[1]:
        lines.append(f"  finish {finish[1]}")
    lines += ["} }", f"part pack_{i} is pack_kind {{ {layers} }}"]
    return "\n".join(lines) + "\n"


def facts_of(j):
    """Whole numbers in a fixed order; -1 for missing."""
    values = [*j["holes"], *j["circle"][0], *j["circle"][1], *j["pilot"], *j["bore"],
              j["stud"][0][0] * 1000 + j["stud"][0][1], j["stud"][1][0] * 1000 + j["stud"][1][1],
              *j["gain"], *j["pull"][0], *j["pull"][1], j["limit"], *j["reach"]]
    values += [*(j["grip"][0] or (-1, -1)), *j["grip"][1]]
    values += [FINISHES.index(j["finish"][0]), FINISHES.index(j["finish"][1]) if j["finish"][1] else -1]
    for layer in j["layers"]:
        values += layer
    return values


def count(folder, joints, seed=11):
    """Writes a build and tells what every engine must find: fits, conflicts, unknown."""
    draw = random.Random(seed)
    folder = Path(folder) / f"build_{joints}"
    folder.mkdir(parents=True, exist_ok=True)
    found = {"fits": 0, "conflict": 0, "unknown": 0}
    with open(folder / "joints.parts", "w") as parts, open(folder / "joints.build", "w") as build, \
            open(folder / "joints.csv", "w") as rows, open(folder / "joints.lp", "w") as facts:
        (folder / "joints.rules").write_text(RULES)
        parts.write('use "joints.rules"\n')
        build.write('use "joints.parts"\nbuild many "made-up joints" {\n')
        for i in range(joints):
            j = joint(draw)
            for one in judge(j):
                found[one] += 1
            parts.write(parts_of(i, j))
            faces = ", ".join(f"k{i}.l{n}" for n in range(10))
            build.write(f"  fit p{i}: pin_{i}  fit b{i}: base_{i}  fit k{i}: pack_{i}\n"
                        f"  join seat j{i} {{ pin p{i}.tip  base b{i}.well  layer {faces} }}\n")
            values = facts_of(j)
            rows.write(",".join(map(str, values)) + "\n")
            facts.write(f"joint({i},{','.join(map(str, values[:-20]))}).\n")
            for n in range(10):
                facts.write(f"layer({i},{n},{values[-20 + 2 * n]},{values[-19 + 2 * n]}).\n")
        build.write("}\n")
    return [found["fits"], found["conflict"], found["unknown"]]


def write_pairs(folder, parts):
    """Half wheels, half stops; each wheel has the code of one stop."""
    path = Path(folder) / f"pairs_{parts}.build"
    with open(path, "w") as out:
        out.write("kind wheel_kind { code: text  room: length }\nkind stop_kind { code: text  size: length }\n"
                  "rule stop_clears_wheel {\n  for w: wheel_kind, s: stop_kind where w.code = s.code\n"
                  "  need room: w.room >= s.size\n}\n")
        for i in range(parts // 2):
            out.write(f'part wheel_{i} is wheel_kind {{ code "c{i}"  room 20 mm }}\n'
                      f'part stop_{i} is stop_kind {{ code "c{i}"  size {18 + i % 3} mm }}\n')
        out.write("build pairs {\n")
        for i in range(parts // 2):
            out.write(f"  fit w{i}: wheel_{i}  fit s{i}: stop_{i}\n")
        out.write("}\n")
    return str(path)


def write_untied(folder, parts):
    path = Path(folder) / f"untied_{parts}.build"
    with open(path, "w") as out:
        for k in "abcd":
            out.write(f"kind kind_{k} {{ size: length }}\n")
        out.write("rule every_four {\n  for a: kind_a, b: kind_b, c: kind_c, d: kind_d\n"
                  "  need size: a.size + b.size + c.size + d.size <= 100 mm\n}\n")
        for i in range(parts):
            out.write(f"part part_{i} is kind_{'abcd'[i % 4]} {{ size {1 + i % 7} mm }}\n")
        out.write("build untied {\n")
        for i in range(parts):
            out.write(f"  fit p{i}: part_{i}\n")
        out.write("}\n")
    return str(path)


if __name__ == "__main__":
    print(*count(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 11))
