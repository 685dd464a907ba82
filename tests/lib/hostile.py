"""Hostile and broken input (tests/hostile). `stage`: nasty texts; each ends with a plain answer, in little memory and on a
small stack. `files_stage`: full disks, interrupts, what is opened, what reaches a terminal."""
import os
import re
import resource
import shlex
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from outcome import Outcome, ROOT, each, environment

sys.path.insert(0, str(ROOT / "tests/hostile"))
import disks        # noqa: E402
import escapes      # noqa: E402
import nasty        # noqa: E402
import nasty_bytes  # noqa: E402,F401
import nasty_work   # noqa: E402,F401
import opened       # noqa: E402

MEMORY = 512 << 20  # bytes held at most, for a text under 10 MB
STACK = 256 << 10
FAULTS = re.compile(rb"fault in the program|out of memory|Sanitizer|terminate called|Assertion")
UNESCAPED = re.compile(rb"[\x00-\x08\x0b-\x1f\x7f]")


@dataclass
class Run:
    status: int     # 128 + n after signal n; None when the time ran out
    output: bytes   # both streams
    memory: int     # bytes held at most
    seconds: float  # of processor time


def run(command, folder, env, timeout):
    """Runs a command on a small stack and says what it used. Its memory is measured, not limited: an allocator may
    reserve addresses that it never fills."""
    def prepare():
        resource.setrlimit(resource.RLIMIT_STACK, (STACK, STACK))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))

    with tempfile.TemporaryFile() as output:
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=output, stderr=subprocess.STDOUT, cwd=folder,
                                   env=env, start_new_session=True, preexec_fn=prepare)
        late = time.monotonic() + timeout
        status = None
        while True:
            ended, wait_status, usage = os.wait4(process.pid, os.WNOHANG)
            if ended:
                break
            if time.monotonic() > late:
                os.killpg(process.pid, signal.SIGKILL)
                _, _, usage = os.wait4(process.pid, 0)
                wait_status = None
                break
            time.sleep(0.005)
        if wait_status is not None:
            status = os.waitstatus_to_exitcode(wait_status)
            status = 128 - status if status < 0 else status
        process.returncode = 0 if status is None else status
        output.seek(0)
        return Run(status, output.read(), usage.ru_maxrss << 10, usage.ru_utime + usage.ru_stime)


def command_of(program, verb, one):
    words = [str(program), verb, "main.build"]
    if verb == "why":
        words.append("a")
    return words + list(one.words)


def fault(done, verb, statuses, says, timeout):
    """What is wrong with a run, in a line; "" when nothing is."""
    if done.status is None:
        return f"no answer within {timeout} s"
    if done.status not in statuses:
        return f"exit status {done.status}, not one of {', '.join(map(str, statuses))}"
    if done.memory > MEMORY:
        return f"{done.memory >> 20} MB of memory, more than {MEMORY >> 20}"
    if found := FAULTS.search(done.output):
        return f"it says \"{found[0].decode()}\""
    if verb != "tidy" and (found := UNESCAPED.search(done.output)):  # tidy gives the file's own text back
        return f"the byte {found[0]!r} reaches the terminal"
    if len(done.output) > 20_000_000:
        return f"{len(done.output)} bytes of output"
    if says and not re.search(says, done.output.decode("utf-8", "replace").replace("\n      ", " "), re.S):
        return f"it does not say \"{says}\""
    return ""


def statuses_of(verb, one):
    if verb == "tidy":
        return (0, 3)
    return (*one.statuses, 4) if verb == "trial" or (verb == "why" and 3 not in one.statuses) else one.statuses


def try_one(program, one, timeout):
    """The failures of one nasty text, and what its runs used."""
    texts, used = [], []
    with tempfile.TemporaryDirectory(prefix="matchmark-nasty-") as folder:
        nasty.write(one, folder)
        for verb in one.verbs:
            words = command_of(program, verb, one)
            done = run(words, folder, environment(program), timeout)
            wrong = fault(done, verb, statuses_of(verb, one), one.says if verb == "check" else "", timeout)
            used.append((done.seconds, done.memory >> 20, done.status, f"{verb} {one.name}"))
            texts.append("" if not wrong else f"nasty text {one.name}: {wrong}\n  python3 tests/hostile/nasty.py {one.name} FOLDER; cd FOLDER; "
                         f"{shlex.join(['matchmark', *words[1:]])}\n{done.output[:1500].decode('utf-8', 'backslashreplace')}")
    return texts, used


def stage(program, names=(), timeout=180):
    outcome = Outcome()
    chosen = [one for one in nasty.ALL.values() if not names or any(name in one.name for name in names)]
    most = (0, 0, 0, "")
    used_most = 0
    for texts, used in each(lambda one: try_one(program, one, timeout), chosen):
        for text in texts:
            outcome.check(not text, text)
        most = max([most, *used])
        used_most = max([used_most, *(memory for _, memory, _, _ in used)])
    outcome.note = f"at most {used_most} MB and {most[0]:.1f} s ({most[3]})"
    return outcome


def files_stage(program, names=()):
    outcome = Outcome()
    skipped = {}
    checks = [check for check in disks.CHECKS if not names or any(name in check.__name__ for name in names)]
    for check, (texts, why) in zip(checks, each(lambda check: disks.tried(check, program), checks)):
        if why:
            skipped.setdefault(why, []).append(check.__name__)
        else:
            outcome.check(not texts, "\n".join(texts))
    if not names or "opened" in names:
        texts, why = opened.stage(program)
        if why:
            skipped.setdefault(why, []).append("opened")
        for text in texts:
            outcome.check(not text, text)
    if not names or "escapes" in names:
        for text in escapes.stage(program):
            outcome.check(not text, text)
    if skipped:
        outcome.note = "skipped: " + "; ".join(f"{', '.join(checks)} ({why})" for why, checks in skipped.items())
    return outcome
