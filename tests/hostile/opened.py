"""What the program opens, by strace: the files that it was told to read and no others; it writes none but the one that it
was asked to write, starts no program and talks to nobody."""
import os
import re
import shutil
import socket
import subprocess
import tempfile
from pathlib import Path

from outcome import ROOT, environment

CALLS = "trace=%network,open,openat,openat2,creat,execve,execveat,fork,vfork,mknod,mknodat,symlink,symlinkat,link,linkat,rename,renameat," \
        "renameat2,unlink,unlinkat,mkdir,mkdirat,rmdir,truncate,chmod,fchmodat,chown,fchownat"
OPENINGS = ("open", "openat", "openat2")
# what the loader, the allocator and the watch over memory read
SYSTEM = re.compile(r"^(/etc/ld\.so\.\w+|/(usr/)?lib\S*\.so[.\d]*|/proc/self/statm|/proc/sys/vm/\w+|/sys/devices/system/\S+)$")
FLAGS = re.compile(r"O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND")


def calls(program, words, folder, **options):
    """(exit status, its output, [(call, first path or whole line, its flags)])"""
    trace = Path(folder, ".trace")
    done = subprocess.run(["strace", "-f", "-qq", "-s", "4096", "-o", str(trace), "-e", CALLS, str(program), *words], cwd=folder,
                          env=environment(program), capture_output=True, text=True, check=False, timeout=60, **options)
    made = []
    for line in trace.read_text(encoding="utf-8", errors="replace").splitlines():
        found = re.match(r"^(?:\d+ +)?(\w+)\((.*)$", line)
        if not found or "resumed>" in line:
            continue
        path = re.search(r'"((?:[^"\\]|\\.)*)"', found[2])
        made.append((found[1], path[1] if path else "", found[2]))
    trace.unlink()
    return done.returncode, done.stdout + done.stderr, made


def strangers(made, folder, allowed):
    """Opened, and neither the system's nor allowed; and everything that is no opening for reading."""
    wrong = []
    started = 0
    for call, path, rest in made:
        if call == "execve":
            started += 1
            continue
        if call not in OPENINGS:
            wrong.append(f"{call}({rest}")
            continue
        if SYSTEM.match(path):
            continue
        real = os.path.realpath(os.path.join(folder, path))
        if real not in allowed or FLAGS.search(rest):
            wrong.append(f"{call}({rest}")
    if started != 1:
        wrong.append(f"{started - 1} programs were started")
    return wrong


def used_by(file, seen=None):
    """A file and those that it uses, by their real paths."""
    seen = set() if seen is None else seen
    real = os.path.realpath(file)
    if real in seen:
        return seen
    seen.add(real)
    for path in re.findall(r'^[^#"\n]*\buse "([^"]+)"', Path(real).read_text(encoding="utf-8"), re.M):
        used_by(os.path.join(os.path.dirname(real), path), seen)
    return seen


def van(program):
    build = "builds/market_day_van/van.build"
    texts = []
    for words in (["check", build], ["check", build, "--json"], ["check", build, "--all"], ["why", build, "u_bolt_width"],
                  ["list", build], ["tidy", build], ["tidy", "--check", build], ["trial", "examples/13_many_sides.rules"]):
        allowed = used_by(ROOT / words[1 if words[1] != "--check" else 2]) if words[0] != "tidy" else {os.path.realpath(ROOT / build)}
        rules = ["--rules", "rules"] if words[0] != "tidy" else []
        status, output, made = calls(program, words + rules, ROOT)
        wrong = strangers(made, ROOT, allowed)
        opened = {os.path.realpath(ROOT / path) for call, path, _ in made if call in OPENINGS and not SYSTEM.match(path)}
        if words[0] != "tidy":  # the way to each was looked at before, and is not to lead through a link by now
            wrong += [f"{call}({rest}" for call, path, rest in made
                      if call in OPENINGS and os.path.realpath(ROOT / path) in allowed and "RESOLVE_NO_SYMLINKS" not in rest]
        if status not in (0, 1, 2):
            wrong.append(f"exit status {status}: {output[:300]}")
        if missing := allowed - opened:
            wrong.append(f"strace does not show that these were read: {sorted(missing)[:3]}")
        texts.append("" if not wrong else f"matchmark {' '.join(words)} does what it was not told to:\n  " + "\n  ".join(wrong[:12]))
    return texts


def tidy_write(program):
    """Only the file beside and its renaming are written."""
    with tempfile.TemporaryDirectory(prefix="matchmark-opened-") as folder:
        Path(folder, "a.parts").write_text("kind   arm{reach:length}\nuse \"b.rules\"\n", encoding="utf-8")
        Path(folder, "b.rules").write_text("kind   leg{reach:length}\n", encoding="utf-8")
        status, output, made = calls(program, ["tidy", "--write", "a.parts"], folder)
        file = os.path.realpath(os.path.join(folder, "a.parts"))
        wrong = strangers(made, folder, {file})
        beside = [line for line in wrong if re.match(rf'openat\(AT_FDCWD, "{re.escape(file)}\.\w{{6}}", O_RDWR\|O_CREAT\|O_EXCL', line)]
        renamed = [line for line in wrong if re.match(rf'rename\w*\(.*"{re.escape(file)}\.\w{{6}}", .*"{re.escape(file)}"', line)]
        rest = [line for line in wrong if line not in beside + renamed]
        good = status == 0 and len(beside) == 1 and len(renamed) == 1 and not rest
        return ["" if good else f"tidy --write: exit status {status} {output}\n  " + "\n  ".join(wrong)]


def stays(line, inside):
    """An opening for reading of a path below the folder that holds no link."""
    path = re.match(r'openat2?\(AT_FDCWD, "([^"]*)"', line)
    return path and not FLAGS.search(line) and path[1] == os.path.realpath(path[1]) and Path(path[1]).is_relative_to(os.path.realpath(inside))


def hostile_uses(program):
    """Paths in a shared file that lead elsewhere. None of them may be opened, waited for or read without end."""
    with tempfile.TemporaryDirectory(prefix="matchmark-opened-") as folder:
        out, inside = Path(folder, "out"), Path(folder, "in")
        (inside / "rules").mkdir(parents=True)
        out.mkdir()
        secret = out / "secret.rules"
        secret.write_text("kind secret { reach: length }\n", encoding="utf-8")
        os.symlink("../../out/secret.rules", inside / "rules/link.rules")
        os.symlink("link.rules", inside / "rules/link_to_link.rules")
        os.symlink("../../out", inside / "rules/folder")
        os.symlink("rules/folder", inside / "folder_to_folder")
        os.symlink("/proc/self/environ", inside / "environ.rules")
        os.symlink("/dev/zero", inside / "zero.rules")
        os.symlink("/proc/self/fd/0", inside / "stdin.rules")
        os.symlink("round_b.rules", inside / "round_a.rules")
        os.symlink("round_a.rules", inside / "round_b.rules")
        os.mkfifo(inside / "pipe.rules")
        waiting = socket.socket(socket.AF_UNIX)
        waiting.bind(str(inside / "s.rules"))
        paths = ["rules/link.rules", "rules/link_to_link.rules", "rules/folder/secret.rules", "folder_to_folder/secret.rules",
                 "../out/secret.rules", str(secret), "rules/../../out/secret.rules", "./././../out/./secret.rules", "//etc/passwd",
                 "environ.rules", "zero.rules", "stdin.rules", "round_a.rules", "pipe.rules", "s.rules", "rules", ".", "", "/dev/stdin",
                 "/dev/tty", "/proc/self/mem", "/proc/kmsg", "/proc/self/environ", "~/x.rules", "$HOME/x.rules", "`id`.rules",
                 "file:///etc/passwd", "http://127.0.0.1/x.rules", "rules/link.rules/../secret.rules"]
        build = inside / "a.build"
        texts = []
        for use in paths:
            build.write_text(f'use "{use}"\n', encoding="utf-8")
            status, output, made = calls(program, ["check", "in/a.build", "--rules", "in/rules"], folder, stdin=subprocess.DEVNULL)
            tries = [made_call for made_call in made if not (made_call[0] == "openat" and "O_DIRECTORY" in made_call[2])]
            wrong = [line for line in strangers(tries, folder, {os.path.realpath(build)}) if not stays(line, inside)]
            if status != 3 or "secret { reach" in output:
                wrong.append(f"exit status {status}: {output[:300]}")
            texts.append("" if not wrong else f"use \"{use}\":\n  " + "\n  ".join(wrong[:8]))
        waiting.close()
        for named in ("in/pipe.rules", "in/s.rules", "in/zero.rules", "/dev/zero", "/dev/tty", "/dev/stdin", "/proc/self/fd/0", "in", "in/round_a.rules"):
            for words in (["check", named], ["tidy", named], ["trial", named], ["list", named], ["why", named, "a"]):
                read, write = os.pipe()
                with os.fdopen(read) as source:
                    done = subprocess.run([str(program), *words], cwd=folder, env=environment(program), stdin=source, capture_output=True,
                                          text=True, check=False, timeout=60)
                os.close(write)
                good = done.returncode == 3 and ("cannot" in done.stderr or "is a folder" in done.stderr)
                texts.append("" if good else f"matchmark {' '.join(words)}: exit status {done.returncode}: {done.stderr[:300]}")
        return texts


def stage(program):
    """(texts of what is wrong, "" for a check that passed; why nothing was checked)"""
    if not shutil.which("strace"):
        return [], "what is opened: strace is not installed"
    if subprocess.run(["strace", "-qq", "-o", "/dev/null", "true"], capture_output=True, check=False).returncode != 0:
        return [], "what is opened: strace may not trace here"
    return van(program) + tidy_write(program) + hostile_uses(program), ""
