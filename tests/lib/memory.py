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
RUNS = [["check", *VAN], ["check", *VAN, "--json"], ["check", *VAN, "--all"], ["why", *VAN[:1], "u_bolt_width", *VAN[1:]],
        ["list", "rules/hydraulics.rules", "hose"], ["tidy", "--check", "rules/hydraulics.rules"],
        ["trial", "rules/hydraulics.rules", "--rules", "rules", "--json"], ["trial", "rules/standards/fits.rules"],
        *(["check", f"tests/cases/{name}.case", "--all"] for name in (
            "arithmetic/operators", "arithmetic/operators_fail", "builds/adjustable", "builds/conflict_set_three", "lookups/derate",
            "quantifiers/reachable", "slips/slips_in_builds", "slips/slips_in_rules", "syntax/too_many_errors", "verdicts/spread_forms"))]


def stage(program, names=()):
    outcome = Outcome()
    if not shutil.which("valgrind"):
        outcome.note = "skipped: valgrind is not installed"
        return outcome
    chosen = [words for words in RUNS if not names or any(name in " ".join(words) for name in names)]

    def one(words):
        status, output = run_group([*VALGRIND, str(program), *words], 300, stderr=subprocess.STDOUT, env=environment(program),
                                   cwd=ROOT)
        text = output.decode("utf-8", "backslashreplace")
        blocks = re.search(r"total heap usage: ([\d,]+) allocs", text)
        if status in range(5) and blocks and int(blocks[1].replace(",", "")) >= FEWEST:
            return ""
        found = [line for line in text.split("\n") if line.startswith("==")] or [text]
        return f"valgrind matchmark {' '.join(words)}: exit status {status}\n" + "\n".join(found[:60])

    for text in each(one, chosen):
        outcome.check(not text, text)
    if not chosen:
        outcome.failures.append("there is nothing to run")
    return outcome
