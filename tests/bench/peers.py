"""Load and check beside their peers, from 1000 to 100000 parts or joints, in one run.

Every figure comes from a process of its own; ways and sizes take turns, and each is the least of its rounds: on a shared
machine the least is what the work costs. Processor time is shown, since waiting for a busy machine is no part of it, and
the peak memory that the system counted. Peers that are not there are skipped and named.
"""
import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import make_build
import make_catalogue

parser = argparse.ArgumentParser(prog="tests/bench/run")
parser.add_argument("root", type=Path)
parser.add_argument("--sizes", default="1000,10000,100000")
parser.add_argument("--rounds", type=int, default=3)
chosen = parser.parse_args()
sizes = [int(size) for size in chosen.sizes.split(",")]
built = chosen.root / "build/bench"
nowhere = open(os.devnull, "w")


def measured(command):
    """Standard output, what the system counted, and the exit status."""
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=nowhere, text=True)
    out = process.stdout.read()
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return out, used, process.returncode


def run(command):
    """Standard output, processor seconds, peak MB, exit status."""
    out, used, status = measured(command)
    return out, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, status


def least(rounds):
    return tuple(min(values) for values in zip(*rounds))


def table(title, head, rows):
    print(f"\n{title}")
    widths = [max(len(str(row[i])) for row in [head, *rows]) for i in range(len(head))]
    for row in [head, *rows]:
        print("  ".join(str(cell).ljust(w) if i == 0 else str(cell).rjust(w)
                        for i, (cell, w) in enumerate(zip(row, widths))).rstrip())
    sys.stdout.flush()


def load(folder):
    ways = {"matchmark: read, bind, check dimensions": ("matchmark", "parts"), "nlohmann::json, to a DOM": ("json", "json"),
            "limit: the grammar, no actions": ("recogniser", "parts"), "limit: counting line ends": ("lines", "parts")}
    rows = []
    for size in sizes:
        make_catalogue.write(folder, size)
        found = {name: [] for name in ways}
        for _ in range(chosen.rounds):
            for name, (way, ending) in ways.items():
                out, seconds, peak, status = run([str(built / "load_peers"), way, f"{folder}/catalogue_{size}.{ending}"])
                if status != 0:
                    sys.exit(f"{name}: exit status {status}")
                found[name].append((seconds, peak))
        best = {name: least(rounds) for name, rounds in found.items()}
        json = best["nlohmann::json, to a DOM"]
        for name, (seconds, peak) in best.items():
            rows.append([name, size, f"{seconds * 1000:.0f}", f"{seconds / json[0]:.2f}", f"{peak:.0f}", f"{peak / json[1]:.2f}"])
        for ending in ("parts", "json"):
            os.remove(f"{folder}/catalogue_{size}.{ending}")
    table("Load: a catalogue of parts with a dozen attributes", ["", "parts", "ms", "of json", "MB", "of json"], rows)


def check(folder):
    most = {"z3": 100, "clingo": 10000}  # more would take minutes
    rows, absent = [], set()
    growth = []
    for size in [100, *sizes]:
        expected = make_build.count(folder, size)
        here = f"{folder}/build_{size}"
        ways = {"structs": ["check_peers", "structs", f"{here}/joints.csv"],
                "matchmark, columns": ["check_peers", "columns", f"{here}/joints.build"],
                "matchmark, all plain verdicts": ["check_peers", "matchmark_plain", f"{here}/joints.build"],
                "matchmark, with margins": ["check_peers", "matchmark", f"{here}/joints.build"],
                "SQLite": ["check_peers", "sqlite", f"{here}/joints.csv"]}
        if size <= most["z3"]:
            ways["Z3"] = ["check_peers", "z3", f"{here}/joints.csv"]
        found = {name: [] for name in ways}
        for _ in range(chosen.rounds):
            for name, command in ways.items():
                out, seconds, peak, status = run([str(built / command[0]), *command[1:]])
                if out.strip() == "absent":
                    absent.add(name)
                    continue
                if status != 0 or [int(word) for word in out.split()[3:]] != expected:
                    sys.exit(f"{name}, {size} joints: found {out.strip()}, expected {expected}")
                found[name].append((float(out.split()[0]), float(out.split()[1]), seconds * 1000, peak))
        if shutil.which("clingo") is None:
            absent.add("clingo")
        elif size <= most["clingo"]:
            for _ in range(chosen.rounds):
                out, seconds, peak, _ = run(["clingo", "-Wno-global-variable", str(Path(__file__).parent / "joints.lp"),
                                             f"{here}/joints.lp"])
                if f"found({expected[0]},{expected[1]},{size})" not in out:
                    sys.exit(f"clingo, {size} joints: found {out}, expected {expected}")
                found.setdefault("clingo (reading and grounding)", []).append((seconds * 1000, 0, seconds * 1000, peak))
        command = [str(built / "matchmark"), "check", f"{here}/joints.build", "--max-file-size", "256", "--max-memory", "8000",
                   "--max-seconds", "600"]
        uses = [measured(command)[1] for _ in range(chosen.rounds)]
        whole = least([(used.ru_utime + used.ru_stime, used.ru_utime, used.ru_maxrss / 1024) for used in uses])
        found["matchmark check, the whole command"] = [(float("nan"), 0, whole[0] * 1000, whole[2])]
        growth.append((size, *whole))
        by_hand = least(found["structs"])[0]
        for name, rounds in found.items():
            if rounds:
                judging, gathering, total, peak = least(rounds)
                judged = "" if judging != judging else f"{judging:.3f}"
                ratio = "" if judging != judging else f"{judging / by_hand:.1f}"
                rows.append([name, size, judged, ratio, f"{gathering:.1f}" if gathering else "", f"{total:.0f}", f"{peak:.0f}"])
        shutil.rmtree(here)
    table("Check: joints with eight requirements each; all found the same verdicts",
          ["", "joints", "judging ms", "of structs", "gathering ms", "whole ms", "MB"], rows)
    for name in sorted(absent):
        print(f"{name} is not installed: skipped.")
    grown = [[now[0], f"{now[1] * 1000:.0f}", f"{now[2] * 1000:.0f}", f"{now[3]:.0f}",
              *(f"{now[i] / before[i]:.1f}" if before and before[i] else "" for i in (1, 2, 3))] for before, now in zip([None, *growth], growth)]
    table("Growth: matchmark check, ten times the joints; its own time is without the system's, which hands out the memory",
          ["joints", "ms", "own ms", "MB", "times the ms", "own", "times the MB"], grown)


def rules_over_pairs(folder):
    """A rule over two kinds that an equality ties, and one over four kinds that nothing ties."""
    rows = []
    for size in [1000, 2000, 5000, 10000]:
        path = make_build.write_pairs(folder, size)
        out, seconds, peak, _ = run([str(built / "matchmark"), "check", path])
        matches = next((line for line in out.splitlines() if "judged" in line), "").strip()
        rows.append([size, f"{seconds * 1000:.0f}", f"{peak:.0f}", matches])
    table("A rule `for w: wheel_kind, c: stop_kind where w.code = c.code`", ["parts", "ms", "MB", "says"], rows)
    path = make_build.write_untied(folder, 10000)
    out, seconds, peak, _ = run([str(built / "matchmark"), "check", path])
    said = " ".join(out.split())
    at = said.find("combinations")
    table("A rule over four kinds that nothing ties, 10000 parts", ["ms", "MB", "says"],
          [[f"{seconds * 1000:.0f}", f"{peak:.0f}", said[max(0, at - 30):at + 60] if at >= 0 else "nothing"]])


with tempfile.TemporaryDirectory() as folder:
    load(folder)
    check(folder)
    rules_over_pairs(folder)
