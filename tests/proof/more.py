#!/usr/bin/env python3
"""A longer proof: python3 tests/proof/more.py PROGRAM [--worlds N] [--requirements N] [--seed N]. PROGRAM is the built "proof"."""
import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "lib"))
import proof  # noqa: E402


def main():
    parser = argparse.ArgumentParser(prog="more.py", description=__doc__)
    parser.add_argument("program", type=Path)
    parser.add_argument("--worlds", type=int, default=10_000_000)
    parser.add_argument("--requirements", type=int, default=3000)
    parser.add_argument("--seed", type=int, default=2)
    chosen = parser.parse_args()
    failed = 0
    for name, outcome in (("proof", proof.judged(chosen.program, chosen.worlds, chosen.seed)),
                          ("z3", proof.second_opinion(chosen.program, chosen.requirements, chosen.seed, 1000))):
        for text in outcome.failures:
            print(text)
        for text in getattr(outcome, "gaps", []):
            print(text)
        print(f"{name}: {outcome.passed} passed, {len(outcome.failures)} failed ({outcome.note})")
        failed += len(outcome.failures)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
