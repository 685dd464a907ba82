"""Full disks, read-only folders, files that change or vanish meanwhile, and runs that are interrupted: a plain message, the
right exit status, the file as it was or as it was to be, and nothing left beside it.

Faults come from strace, which makes a system call fail, wait, or meet a signal (man strace, "Syscall tampering")."""
import os
import resource
import shutil
import signal
import subprocess
import tempfile
import time
from pathlib import Path

from outcome import environment

UNTIDY = b"kind   arm{reach:length}\npart a is arm{reach 1   mm}\n"
TIDY = b"kind arm { reach: length }\npart a is arm { reach 1 mm }\n"


class Skip(Exception):
    """Why a check cannot be made here, in a line."""


def usual_signals():
    """Whoever runs the tests under nohup or in the background ignores some, and that is inherited."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


class Place:
    """A folder with an untidy file, and the program in it."""

    def __init__(self, program, folder):
        self.program, self.folder = program, Path(folder)
        self.file = self.folder / "a.parts"
        self.file.write_bytes(UNTIDY)

    def start(self, *words, before=(), **options):
        options.setdefault("preexec_fn", usual_signals)
        return subprocess.Popen([*before, str(self.program), *words], cwd=self.folder, env=environment(self.program),
                                stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **options)

    def run(self, *words, before=(), **options):
        process = self.start(*words, before=before, **options)
        out, err = process.communicate(timeout=120)
        return process.returncode, out, err

    def tidy(self, fault):
        return self.run("tidy", "--write", "a.parts", before=strace(fault))

    def expect(self, done, status, says, held=UNTIDY):
        """The texts of what is wrong."""
        got, _, err = done
        wrong = []
        if got != status:
            wrong.append(f"exit status {got}, not {status}")
        if says not in err.replace("\n      ", " "):
            wrong.append(f"it does not say \"{says}\", but:\n{err[:500]}")
        if held is not None and (not self.file.exists() or self.file.read_bytes() != held):
            wrong.append("the file is not what it should be")
        if held is None and self.file.exists():
            wrong.append("the file should not be there")
        if others := sorted(path.name for path in self.folder.iterdir() if path.name not in ("a.parts", "trace", "out")):
            wrong.append(f"left behind: {others}")
        return wrong


def strace(fault, *more):
    if not shutil.which("strace"):
        raise Skip("strace is not installed")
    call = fault.split(":")[0]
    return ["strace", "-f", "-qq", "-o", "/dev/null", "-e", f"trace={call}", "-e", f"inject={fault}", *more]


# ---- disks

def full_disk(place):
    return place.expect(place.tidy("write:error=ENOSPC:when=1"), 4, 'cannot write "a.parts": No space left on device; nothing was changed')


def disk_full_at_the_end(place):
    return place.expect(place.tidy("fsync:error=ENOSPC"), 4, 'cannot write "a.parts": No space left on device; nothing was changed')


def disk_fails(place):
    return place.expect(place.tidy("fsync:error=EIO"), 4, 'cannot write "a.parts": Input/output error; nothing was changed')


def disk_fails_while_reading(place):
    done = place.run("tidy", "--write", "a.parts", before=strace("read:error=EIO", "-P", str(place.file)))
    return place.expect(done, 3, 'cannot read "a.parts": Input/output error')


def rename_refused(place):
    return place.expect(place.tidy("/^rename:error=EACCES"), 4, 'cannot write "a.parts": Permission denied; nothing was changed')


def interrupted_calls_go_on(place):
    return place.expect(place.tidy("write:error=EINTR:when=1..3"), 0, "", TIDY)


def small_disk(place):
    """A real one, of 32 kB, where file systems may be mounted; tidy needs room for the file once more."""
    untidy = UNTIDY + b"# a comment that stays\n" * 800
    place.file.write_bytes(untidy)
    script = ('mount -t tmpfs -o size=32k none disk && cp a.parts disk/ && "$0" tidy --write disk/a.parts; echo "status $?"; '
              'ls disk; cmp a.parts disk/a.parts && echo same; "$0" list a.parts > disk/report; echo "status $?"; wc -c < disk/report')
    (place.folder / "disk").mkdir()
    probe = subprocess.run(["unshare", "-m", "mount", "-t", "tmpfs", "-o", "size=32k", "none", str(place.folder / "disk")],
                           capture_output=True, check=False) if shutil.which("unshare") else None
    if probe is None or probe.returncode != 0:
        raise Skip("no file system may be mounted here")
    done = subprocess.run(["unshare", "-m", "sh", "-c", script, str(place.program)], cwd=place.folder, env=environment(place.program),
                          capture_output=True, text=True, check=False)
    (place.folder / "disk").rmdir()
    lines = done.stdout.split("\n")
    wrong = place.expect((0, "", done.stderr), 0, 'cannot write "disk/a.parts": No space left on device; nothing was changed', untidy)
    if lines[:3] != ["status 4", "a.parts", "same"]:
        wrong.append(f"the disk holds something else: {lines}")
    return wrong


def read_only_disk(place):
    (place.folder / "disk").mkdir()
    script = 'mount --bind . disk && mount -o remount,ro,bind disk && "$0" tidy --write disk/a.parts; echo "status $?"'
    done = subprocess.run(["unshare", "-m", "sh", "-c", script, str(place.program)], cwd=place.folder, env=environment(place.program),
                          capture_output=True, text=True, check=False) if shutil.which("unshare") else None
    (place.folder / "disk").rmdir()
    if done is None or "mount:" in done.stderr or "unshare:" in done.stderr:
        raise Skip("no file system may be mounted here")
    wrong = place.expect((0, "", done.stderr), 0, 'cannot write "disk/a.parts": Read-only file system; nothing was changed')
    return wrong + ([] if done.stdout == "status 4\n" else [f"it said {done.stdout!r}"])


def largest_file(place):
    """The shell's limit on the size of files (ulimit -f) is an error of write too, and no silent end."""
    untidy = UNTIDY + b"# a comment that stays\n" * 800
    place.file.write_bytes(untidy)
    done = place.run("tidy", "--write", "a.parts", preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (8192, 8192)))
    return place.expect(done, 4, 'cannot write "a.parts": File too large; nothing was changed', untidy)


# ---- files that change

def changed_meanwhile(place):
    process = place.start("tidy", "--write", "a.parts", before=strace("fsync:delay_enter=1500000"))
    time.sleep(0.7)
    place.file.write_bytes(b"# saved by an editor\n")
    out, err = process.communicate(timeout=60)
    return place.expect((process.returncode, out, err), 4, 'cannot write "a.parts": it was changed meanwhile; nothing was changed',
                        b"# saved by an editor\n")


def gone_meanwhile(place):
    process = place.start("tidy", "--write", "a.parts", before=strace("fsync:delay_enter=1500000"))
    time.sleep(0.7)
    place.file.unlink()
    out, err = process.communicate(timeout=60)
    return place.expect((process.returncode, out, err), 4, 'cannot write "a.parts": it is gone; nothing was changed', None)


def gone_before_it_is_opened(place):
    done = place.run("check", "a.parts", before=strace("openat,openat2:error=ENOENT", "-P", str(place.file)))
    return place.expect(done, 3, 'cannot open "a.parts": no such file')


def opened_on_an_older_system(place):
    """Before Linux 5.6 nobody can be asked to refuse every link on the way."""
    done = place.run("check", "a.parts", before=strace("openat2:error=ENOSYS"))
    return place.expect(done, 4, '"a.parts" holds no build')


def shrinks_while_it_is_read(place):
    """What stat said is no longer true: the text that is there counts."""
    process = place.start("tidy", "a.parts", before=strace("read:delay_enter=1500000", "-P", str(place.file)))
    time.sleep(0.7)
    with open(place.file, "r+b") as file:
        file.truncate(25)
    out, err = process.communicate(timeout=60)
    return place.expect((process.returncode, out, err), 0, "", UNTIDY[:25]) + ([] if out == TIDY[:27].decode() else [f"it printed {out!r}"])


def other_files_are_still_written(place):
    (place.folder / "out").mkdir()
    other = place.folder / "out/b.parts"
    other.write_bytes(UNTIDY)
    done = place.run("tidy", "--write", "a.parts", "out/b.parts", before=strace("fsync:error=EIO:when=1"))
    wrong = place.expect(done, 4, 'cannot write "a.parts": Input/output error; nothing was changed')
    return wrong + ([] if other.read_bytes() == TIDY and len(list(other.parent.iterdir())) == 1 else ["the second file was not written"])


def owner_and_rights_stay(place):
    os.chmod(place.file, 0o640)
    if os.geteuid() == 0:
        os.chown(place.file, 1234, 4321)
    before = place.file.stat()
    wrong = place.expect(place.run("tidy", "--write", "a.parts"), 0, "", TIDY)
    after = place.file.stat()
    same = (before.st_mode, before.st_uid, before.st_gid) == (after.st_mode, after.st_uid, after.st_gid)
    return wrong + ([] if same else [f"owner and rights were {before}, are {after}"])


def a_link_stays_a_link(place):
    (place.folder / "out").mkdir()
    real = place.folder / "out/real.parts"
    place.file.rename(real)
    place.file.symlink_to("out/real.parts")
    wrong = place.expect(place.run("tidy", "--write", "a.parts"), 0, "", TIDY)
    return wrong + ([] if place.file.is_symlink() and real.read_bytes() == TIDY else ["the link was replaced"])


# ---- interrupts

def interrupted_while_writing(name):
    number = getattr(signal, name)

    def check(place):
        return place.expect(place.tidy(f"fsync:signal={name}"), -number, "matchmark: interrupted; the file under way was left as it was\n")
    check.__name__ = f"{name}_while_writing"
    return check


def interrupted_at_any_time(place):
    """Signals at many moments of writing a large file: it is the old one or the new one, whole, and alone."""
    untidy = UNTIDY + b"".join(b"part p%d is arm{reach %d   mm}\n" % (i, i) for i in range(30_000))
    place.file.write_bytes(untidy)
    began = time.monotonic()
    _, tidy, _ = place.run("tidy", "a.parts")
    takes = time.monotonic() - began
    wrong, ends = [], set()
    for i in range(16):
        place.file.write_bytes(untidy)
        process = place.start("tidy", "--write", "a.parts")
        time.sleep(takes * 1.2 * i / 16)
        process.send_signal((signal.SIGINT, signal.SIGTERM, signal.SIGHUP)[i % 3])
        _, err = process.communicate(timeout=60)
        ends.add(process.returncode)
        held = place.file.read_bytes()
        if held not in (untidy, tidy.encode()):
            wrong.append(f"interrupted after {i}/16 of its time: half a file")
        if len(list(place.folder.iterdir())) != 1:
            wrong.append(f"interrupted after {i}/16 of its time: a file is left behind")
        if process.returncode < 0 and "matchmark: interrupted" not in err:
            # before the program has begun nobody can say anything
            if i > 2:
                wrong.append(f"interrupted after {i}/16 of its time: it said {err!r}")
    if not any(end < 0 for end in ends):
        wrong.append(f"no run was interrupted: {ends}")
    return wrong


def long_text(count=3000):
    """A check that takes long: everything is compared with the sum of everything, twice over."""
    places = ", ".join(f"w{i}" for i in range(count))
    return ("kind peg { size: length }\n" f"part x is peg {{ quantity {count}; size 1..2 mm }}\n"
            "rule r { for p: peg need a: sum of q.size for q: peg >= 1 mm * (sum of q.size for q: peg) / p.size }\n"
            f"build b {{ place {places}\nfit p: x at {places} }}\n")


def interrupted_check(name):
    number = getattr(signal, name)

    def check(place):
        place.file.write_text(long_text())
        with open(place.folder / "out", "w", encoding="utf-8") as out:
            process = subprocess.Popen([str(place.program), "check", "a.parts"], cwd=place.folder, env=environment(place.program),
                                       stdin=subprocess.DEVNULL, stdout=out, stderr=subprocess.PIPE, text=True,
                                       preexec_fn=usual_signals)
            time.sleep(0.6)
            process.send_signal(number)
            _, err = process.communicate(timeout=60)
        wrong = place.expect((process.returncode, "", err), -number, "matchmark: interrupted\n", long_text().encode())
        return wrong + ([] if (place.folder / "out").read_text() == "" else ["half a report was written"])
    check.__name__ = f"{name}_in_a_long_check"
    return check


def ignored_interrupts_stay_ignored(place):
    """As nohup and a shell's background jobs ask for it."""
    place.file.write_text(long_text(100))
    process = place.start("check", "a.parts", preexec_fn=lambda: signal.signal(signal.SIGHUP, signal.SIG_IGN))
    time.sleep(0.1)
    process.send_signal(signal.SIGHUP)
    out, err = process.communicate(timeout=60)
    return [] if process.returncode in (0, 1, 2) and out and not err else [f"exit status {process.returncode}: {err}"]


def time_runs_out(place):
    place.file.write_text(long_text())
    return place.expect(place.run("check", "a.parts", "--max-seconds", "1"), 4,
                        "matchmark: not done after 1 s of processor time; allow more with --max-seconds\n", long_text().encode())


def memory_runs_out(place):
    place.file.write_text(long_text())
    return place.expect(place.run("check", "a.parts", "--max-memory", "10"), 4,
                        "matchmark: this needs more than 10 MB of memory; allow more with --max-memory\n", long_text().encode())


CHECKS = [full_disk, disk_full_at_the_end, disk_fails, disk_fails_while_reading, rename_refused, interrupted_calls_go_on, small_disk,
          read_only_disk, largest_file, changed_meanwhile, gone_meanwhile, gone_before_it_is_opened, opened_on_an_older_system,
          shrinks_while_it_is_read,
          other_files_are_still_written, owner_and_rights_stay, a_link_stays_a_link,
          *(interrupted_while_writing(name) for name in ("SIGINT", "SIGTERM", "SIGHUP")), interrupted_at_any_time,
          *(interrupted_check(name) for name in ("SIGINT", "SIGTERM")), ignored_interrupts_stay_ignored, time_runs_out, memory_runs_out]


def tried(check, program):
    """(what is wrong, why it was skipped)"""
    with tempfile.TemporaryDirectory(prefix="matchmark-disk-") as folder:
        try:
            return [f"{check.__name__}: {text}" for text in check(Place(program, folder))], ""
        except Skip as why:
            return [], str(why)
