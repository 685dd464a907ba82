"""The market-day van against the owner's list of joints: every row of van_joints.tsv (worked out by hand and by an
independent program) is looked up in the checker's JSON. The replays have lists of their own. Argument: the program."""
import csv
import json
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

FOLDER = Path(__file__).resolve().parent
BUILDS = [("van.build", "van_joints.tsv", 50), ("swap_w1.build", "van_swap_w1.tsv", 0), ("gears_307.build", "van_gears_307.tsv", 0)]
GRAPH = {"quantity": ("quantity_short", "conflict"), "hand": ("hand_short", "conflict")}


def report(program, build):
    done = subprocess.run([program, "check", f"builds/market_day_van/{build}", "--rules", "rules", "--json"],
                          capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1, 2):
        sys.exit(f"{build}: exit status {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout)["builds"][0]


def words(finding, candidate, state):
    """The verdicts of the cases that a row means; a requirement that only ought to hold answers by its weight."""
    wanted = [] if state == "now" else sorted(state.removeprefix("after ").split("+"))
    found = set()
    for case in finding["cases"]:
        if sorted(case["reworks"]) != wanted:
            continue
        if candidate != "-" and candidate not in case["choices"].values():
            continue
        word = case["verdict"]
        if word == "conflict" and finding["weight"] != "need":
            word = finding["weight"]
        found.add(word)
    return found


def compare(built, rows):
    by_name = defaultdict(list)
    for finding in built["findings"]:
        by_name[finding["requirement"]].append(finding)
    for row in rows:
        where = f"{row['joint']} {row['requirement']} on {row['subject']} ({row['candidate']}, {row['state']})"
        if row["requirement"] in GRAPH:
            what, verdict = GRAPH[row["requirement"]]
            there = any(g["what"] == what and g["part"] == row["subject"] and g["verdict"] == verdict for g in built["graph"])
            found = {verdict} if there else set()
        else:
            matching = [f for f in by_name[row["requirement"]]
                        if row["subject"] in ("*", f["joint"]) or any(s.split(".")[0] == row["subject"] for s in f["subjects"])]
            if not matching:
                yield f"{where}: no such finding"
                continue
            found = set().union(*(words(f, row["candidate"], row["state"]) for f in matching))
        if found != {row["expected"]}:
            yield f"{where}: expected {row['expected']}, found {', '.join(sorted(found)) or 'nothing'}"


def main():
    failures = 0
    for build, table, joints in BUILDS:
        with open(FOLDER / table, encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))
        missing = {f"J{n:02}" for n in range(1, joints + 1)} - {row["joint"] for row in rows}
        problems = [f"{table} says nothing of {name}" for name in sorted(missing)]
        if not rows:
            problems.append(f"{table} is empty")
        problems += compare(report(sys.argv[1], build), rows)
        for problem in problems:
            print(f"{build}: {problem}")
        print(f"{build}: {len(rows)} rows, {len(problems)} wrong")
        failures += len(problems)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
