"""The release program under valgrind's memcheck: does a branch, an address or an output hang on memory that nobody set? The
sanitized build does not see that. Only valgrind's own finds count, not what the program says: valgrind rounds to nearest only.
Valgrind puts its own allocator in the place of the release build's, so it knows every block; where that fails it sees none, and
the stage fails. Some of the other's ways to free stay behind, so whether new and delete go together is not asked."""
import re
import shutil
import subprocess

from outcome import Outcome, ROOT, each, environment, run_group

FOUND = 99
FEWEST = 500  # blocks that even a small run asks for; fewer: valgrind does not see them
VALGRIND = ["valgrind", f"--error-exitcode={FOUND}", "--undef-value-errors=yes", "--leak-check=no",
            "--show-mismatched-frees=no"]
VAN = ["builds/market_day_van/van.build", "--rules", "rules"]
# with the exit status that each must have, so that nothing is passed for a text that could not be read
RUNS = [(1, ["check", *VAN]), (1, ["check", *VAN, "--json"]), (1, ["check", *VAN, "--all"]),
        (1, ["why", *VAN[:1], "u_bolt_width", *VAN[1:]]),
        (0, ["list", "rules/hydraulics.rules", "hose"]), (0, ["tidy", "--check", "rules/hydraulics.rules"]),
        (0, ["trial", "rules/hydraulics_trials.rules", "--rules", "rules", "--json"]), (0, ["trial", "rules/standards/fits.rules"]),
        *((status, ["check", f"tests/cases/{name}.case", "--all"]) for status, name in (
            (0, "arithmetic/operators"), (1, "arithmetic/operators_fail"), (1, "builds/adjustable"), (1, "builds/conflict_set_three"),
            (2, "lookups/rows_disagree"), (2, "quantifiers/reachable"), (3, "slips/slips_in_builds"), (3, "slips/slips_in_rules"),
            (3, "syntax/too_many_errors"), (0, "verdicts/spread_forms")))]


def stage(program, names=()):
    outcome = Outcome()
    if not shutil.which("valgrind"):
        outcome.note = "skipped: valgrind is not installed"
        return outcome
    missing = sorted({word for _, words in RUNS for word in words if "/" in word and not (ROOT / word).exists()})
    outcome.check(not missing, f"tests/lib/memory.py names what is not there: {', '.join(missing)}")
    chosen = [run for run in RUNS if not names or any(name in " ".join(run[1]) for name in names)]

    def one(run):
        wanted, words = run
        status, output = run_group([*VALGRIND, str(program), *words], 300, stderr=subprocess.STDOUT, env=environment(program),
                                   cwd=ROOT)
        text = output.decode("utf-8", "backslashreplace")
        blocks = re.search(r"total heap usage: ([\d,]+) allocs", text)
        if status == wanted and blocks and int(blocks[1].replace(",", "")) >= FEWEST:
            return ""
        found = [line for line in text.split("\n") if line.startswith("==")] or [text]
        return f"valgrind matchmark {' '.join(words)}: exit status {status}, not {wanted}\n" + "\n".join(found[:60])

    for text in each(one, chosen):
        outcome.check(not text, text)
    if not chosen:
        outcome.failures.append("there is nothing to run")
    return outcome
