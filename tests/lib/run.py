"""tests/run: builds the program and passes all tests. Called by the script tests/run."""
import argparse
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path

import cases
import coverage
import determinism
import fuzz
import hostile
import memory
import messages_shown
import proof
import structure
import style
import transcripts
from outcome import Outcome, ROOT, each, environment, run_group

RELEASE = ROOT / "build/ci-release"
# with clang, one sanitized build serves the tests and the fuzz targets
SANITIZED = "fuzz" if shutil.which("clang++") else "ci-asan"
ASAN = ROOT / "build" / SANITIZED
SLOWER = 6  # how many times as long a sanitized program may take


def build(preset, *targets):
    outcome = Outcome()
    done = subprocess.run(["bash", str(ROOT / "tests/lib/build"), preset, *targets], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, check=False)
    outcome.check(done.returncode == 0, done.stdout.replace(f"{ROOT}/", ""))
    return outcome


def sanitized():
    """The build with sanitizers; what earlier tests reached of another build is forgotten."""
    coverage.forget(ASAN)
    return build(SANITIZED, "matchmark", "unit_tests")


def unit(folder, names=()):
    """The unit tests, a file at a time so that no processor is idle; tests of one file may build on each other."""
    outcome = Outcome()
    program = folder / "unit_tests"
    if not program.exists():
        outcome.failures.append("unit_tests was not built")
        return outcome
    words = [f"--test-case={','.join('*' + name + '*' for name in names)}"] if names else []

    def run(*more):
        status, output = run_group([str(program), "--no-colors=true", "--duration=1", *words, *more], 600, stderr=subprocess.STDOUT,
                                   env=environment(program), cwd=ROOT)
        return status, output.decode("utf-8", "backslashreplace")

    def of_file(name):
        return run(f"--source-file=*/{name}")

    status, text = run("--count")
    counted = re.search(r"filters: (\d+)$", text, re.M)
    if not counted or status != 0:
        outcome.failures.append(f"the unit tests cannot be counted: status {status}\n{text[-6000:]}")
        return outcome
    every = int(counted[1])
    ran = 0
    for status, text in each(of_file, sorted(path.name for path in (ROOT / "tests/unit").glob("*.cpp"))):
        failed = re.search(r"test cases:.*passed\s*\|\s*(\d+) failed", text)
        if not failed or status != 0:
            more = int(failed[1]) - 1 if failed else 0
            outcome.failures += [f"the unit tests ended with status {status}\n{text[-8000:]}"] + ["(as above)"] * more
        here = len(re.findall(r"^\d+\.\d+ s: ", text, re.M))  # what doctest itself counts are all tests, run or not
        ran += here
        outcome.passed += here - int(failed[1]) if failed else 0
    if ran != every or not ran:
        outcome.failures.append(f"{ran} of {every} unit tests were run; all are to be, and there must be one")
    return outcome


def files_of(pattern, *folders):
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*") if re.search(pattern, path.name))


def answers(program, jobs, timeout):
    """Each job is (words, the statuses that are right); run in the project's folder, with paths relative to it."""
    outcome = Outcome()

    def one(job):
        words, right = job
        status, output = run_group([str(program), *words], timeout, stderr=subprocess.STDOUT, env=environment(program),
                                   cwd=ROOT)
        if status in right:
            return ""
        ended = f"no answer within {timeout} s" if status is None else f"exit status {status}"
        return f"matchmark {' '.join(words)}: {ended}\n{output.decode('utf-8', 'backslashreplace')[:4000]}"

    for text in each(one, jobs):
        outcome.check(not text, text)
    if not jobs:
        outcome.failures.append("there is nothing to run")
    return outcome


def named(paths, names):
    relative = [str(path.relative_to(ROOT)) for path in paths]
    return [path for path in relative if not names or any(name in path for name in names)]


def trials(program, names=(), timeout=60):
    """The trials of every rule file; every example and demo build is read without an error."""
    jobs = [(["trial", path, "--rules", "rules"], (0,)) for path in named(files_of(r"\.rules$", "rules", "examples"), names)
            if re.search(r"^\s*trial\b", (ROOT / path).read_text(encoding="utf-8"), re.M)]
    jobs += [(["check", path, "--rules", "rules"], (0, 1, 2)) for path in named(files_of(r"\.build$", "examples", "builds"), names)]
    return answers(program, jobs, timeout)


def tidied(program, names=()):
    """tidy changes nothing in what the project ships."""
    paths = named(files_of(r"\.(rules|parts|build)$", "rules", "examples", "builds"), names)
    return answers(program, [(["tidy", "--check", path], (0,)) for path in paths], 60)


def scripts(folder, pattern, program, names=(), timeout=300):
    """The test programs of a folder; each says on its last line why it was skipped, or fails by its exit status 1.
    Exit status 77: skipped."""
    outcome = Outcome()
    skipped = []
    for path in sorted((ROOT / folder).glob(pattern)):
        if names and not any(name in path.stem for name in names):
            continue
        status, output = run_group([sys.executable, "-B", str(path), str(program)], timeout, stderr=subprocess.STDOUT,
                                   env=environment(program), cwd=ROOT)
        text = output.decode("utf-8", "backslashreplace")
        if status == 77:
            skipped.append((text.strip().split("\n") or [path.stem])[-1])
        else:
            outcome.check(status == 0, f"{path.relative_to(ROOT)}: exit status {status}\n{text[-6000:]}")
    if skipped:
        outcome.note = "skipped: " + "; ".join(skipped)
    return outcome


STAGES = {  # name: (what it does, what it needs built, its function)
    "structure": ("who includes whom, file lengths", None, lambda o: structure.stage()),
    "messages": ("a case shows every message", None, lambda o: messages_shown.stage()),
    "format": ("clang-format", None, lambda o: style.format_stage(o.update)),
    "release": ("release build, warnings are errors", None, lambda o: build("ci-release")),
    "unit": ("unit tests", "release", lambda o: unit(RELEASE, o.names)),
    "cases": ("tests/cases", "release", lambda o: cases.stage(RELEASE / "matchmark", o.names, o.update)),
    "cli": ("command line transcripts", "release", lambda o: transcripts.stage(RELEASE / "matchmark", o.names, o.update)),
    "hostile": ("nasty texts, in little memory and on a small stack", "release",
                lambda o: hostile.stage(RELEASE / "matchmark", o.names)),
    "files": ("full disks, interrupts, what is opened, what reaches a terminal", "release",
              lambda o: hostile.files_stage(RELEASE / "matchmark", o.names)),
    "trials": ("trials of the rules; examples and demo builds", "release", lambda o: trials(RELEASE / "matchmark", o.names)),
    "tidied": ("rules, examples and builds are tidy", "release", lambda o: tidied(RELEASE / "matchmark", o.names)),
    "schemas": ("reports hold to their JSON Schemas", "release",
                lambda o: scripts("tests/cli", "check_*.py", RELEASE / "matchmark", o.names)),
    "outside": ("published values and reference programs", "release",
                lambda o: scripts("tests/outside", "check_*.py", RELEASE / "matchmark", o.names)),
    "proof": ("random rules and builds against an independent judge", "release",
              lambda o: proof.judged(RELEASE / "proof", 1_000_000, 1)),
    "z3": ("random requirements against the solver z3", "release",
           lambda o: proof.second_opinion(RELEASE / "proof", 500, 1)),
    "determinism": ("same bytes in other locales, zones, folders, orders", "release",
                    lambda o: determinism.stage(RELEASE / "matchmark")),
    "memcheck": ("valgrind: nothing hangs on memory that nobody set", "release",
                 lambda o: memory.stage(RELEASE / "matchmark", o.names)),
    "tidy": ("clang-tidy", "release", lambda o: style.tidy_stage(RELEASE, o.names, o.all)),
    "asan": ("build with address and undefined sanitizers", None, lambda o: sanitized()),
    "asan-unit": ("unit tests, sanitized", "asan", lambda o: unit(ASAN, o.names)),
    "asan-cases": ("tests/cases, sanitized", "asan", lambda o: cases.stage(ASAN / "matchmark", o.names, timeout=20 * SLOWER)),
    "asan-cli": ("transcripts, sanitized", "asan",
                 lambda o: transcripts.stage(ASAN / "matchmark", o.names, timeout=20 * SLOWER)),
    "asan-trials": ("trials, sanitized", "asan", lambda o: trials(ASAN / "matchmark", o.names, timeout=60 * SLOWER)),
    "coverage": ("how much of src the sanitized tests reached", "asan", lambda o: coverage.stage(ASAN)),
    "fuzz": ("each fuzz target for some seconds", None, lambda o: fuzz.stage(build, o.seconds, o.names)),
}
BUILDS = {"release": RELEASE, "asan": ASAN}


def options():
    parser = argparse.ArgumentParser(
        prog="tests/run", formatter_class=argparse.RawDescriptionHelpFormatter,
        description="Builds the program and passes all tests, or one stage of them.",
        epilog="stages:\n" + "\n".join(f"  {name:12} {about}" for name, (about, _, _) in STAGES.items())
        + "\n\nexamples:\n  tests/run cases lug_circle    the cases whose name holds \"lug_circle\"\n"
        "  tests/run cli --update        writes the outputs that come now into the transcripts; read the diff\n")
    parser.add_argument("stage", nargs="?", choices=[*STAGES, []], metavar="STAGE")
    parser.add_argument("names", nargs="*", metavar="NAME", help="only what holds this in its name")
    parser.add_argument("--update", action="store_true", help="rewrite what cases, cli or format expect")
    parser.add_argument("--seconds", type=int, default=10, help="fuzz: how long each target runs (usually 10)")
    parser.add_argument("--all", action="store_true", help="tidy: all files, not only those that changed")
    parser.add_argument("--no-install", action="store_true", help="do not look for missing packages")
    return parser.parse_args()


def main():
    chosen = options()
    if chosen.update and chosen.stage not in ("cases", "cli", "format"):
        sys.exit("tests/run: --update goes with one of: cases, cli, format")
    names = [chosen.stage] if chosen.stage else list(STAGES)
    if chosen.stage == "coverage":
        names = [name for name in STAGES if name.startswith("asan")] + names
    elif chosen.stage and (need := STAGES[chosen.stage][1]):
        names.insert(0, need)
    work = {name: STAGES[name][2] for name in names}
    passed, failed, broken = 0, 0, set()
    began = time.monotonic()
    for name, function in work.items():
        start = time.monotonic()
        need = STAGES[name][1]
        if need in broken:
            outcome = Outcome(failures=[f"{name}: not run, the {need} build is broken"])
        else:
            outcome = function(chosen)
        if name in BUILDS and outcome.failures:
            broken.add(name)
        passed += outcome.passed
        failed += len(outcome.failures)
        for text in outcome.failures:
            print(text.rstrip())
        note = f"  ({outcome.note})" if outcome.note else ""
        print(f"{name:12} {outcome.passed:5} passed {len(outcome.failures):4} failed {time.monotonic() - start:7.1f} s{note}",
              flush=True)
    print(f"{'':12} {time.monotonic() - began:.0f} s in all")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
