"""What a stage hands back: how many checks passed, and the text of each that did not."""
import os
import signal
import subprocess
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
JOBS = int(os.environ.get("MATCHMARK_JOBS") or os.cpu_count() or 1)


@dataclass
class Outcome:
    passed: int = 0
    failures: list = field(default_factory=list)  # texts of several lines
    note: str = ""  # one line: what was skipped and why

    def check(self, good, text):
        if good:
            self.passed += 1
        else:
            self.failures.append(text)

    def add(self, other):
        self.passed += other.passed
        self.failures += other.failures
        if other.note:
            self.note = other.note


def run_group(command, timeout, **options):
    """Runs a command in a process group of its own, so that after `timeout` seconds all of it is ended.
    Gives (status, output as bytes); the status is None when the time ran out, 128 + n after signal n."""
    process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                               start_new_session=True, **options)
    try:
        output, _ = process.communicate(timeout=timeout)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        output, _ = process.communicate()
        return None, output
    status = process.returncode
    return (128 - status if status < 0 else status), output


def git(*words):
    """The lines that git says; None where there is no git or no repository."""
    try:
        done = subprocess.run(["git", *words], cwd=ROOT, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        return None
    return done.stdout.split("\n") if done.returncode == 0 else None


def reached_folder(build):
    """Where the sanitized programs of a build mark what they reached: tests/fuzz/reached.cpp."""
    return build / "reached"


def environment(program):
    """What a tested program sees: no colour from outside, 80 columns, sanitizers that stop at the first find."""
    kept = {name: value for name, value in os.environ.items()
            if name in ("PATH", "HOME", "TMPDIR")}
    kept["PATH"] = f"{program.parent}:{kept.get('PATH', '/usr/bin:/bin')}"
    # Two frames of who asked for a block and who freed it: more takes half of the time, in recursion. What went wrong is
    # shown with all its frames.
    kept.update(LC_ALL="C.UTF-8", COLUMNS="80", TERM="dumb", TZ="UTC", ROOT=str(ROOT), REACHED=str(reached_folder(program.parent)),
                ASAN_OPTIONS="abort_on_error=0:exitcode=99:detect_stack_use_after_return=1:malloc_context_size=2",
                UBSAN_OPTIONS="print_stacktrace=1:exitcode=99")
    return kept


def each(function, items):
    """function over items, some at a time; results in the order of the items."""
    with ThreadPoolExecutor(JOBS) as pool:
        return list(pool.map(function, items))


def difference(expected, got, name):
    import difflib
    lines = difflib.unified_diff(expected, got, f"{name} (expected)", f"{name} (got)", lineterm="")
    return "\n".join(lines)
