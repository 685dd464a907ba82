"""clang-format and clang-tidy."""
import json
import re
import shutil
import subprocess

from outcome import Outcome, ROOT, each, git


def cpp_files():
    return sorted(path for folder in ("src", "grammar", "tests") for path in (ROOT / folder).rglob("*")
                  if path.suffix in (".cpp", ".hpp"))


def format_stage(update=False):
    outcome = Outcome()
    if not shutil.which("clang-format"):
        outcome.note = "skipped: clang-format is not installed"
        return outcome

    def one(path):
        command = ["clang-format", *(["-i"] if update else ["--dry-run", "-Werror"]), str(path)]
        done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
        return "\n".join(done.stderr.replace(f"{ROOT}/", "").split("\n")[:4]) if done.returncode else ""

    for text in each(one, cpp_files()):
        outcome.check(not text, text)
    return outcome


def changed(paths):
    """The files that differ from the main branch or, on it, from the commit before; all when nobody can say."""
    base = git("merge-base", "HEAD", "origin/main") or git("merge-base", "HEAD", "main")
    head = git("rev-parse", "HEAD")
    start = base[0] if base and head and base[0] != head[0] else "HEAD~1"
    names = git("diff", "--name-only", start)
    if names is None:
        return paths
    touched = {ROOT / name for name in names + (git("ls-files", "--others", "--exclude-standard") or [])}
    if ROOT / ".clang-tidy" in touched:
        return paths
    return [path for path in paths if path in touched or path.with_suffix(".hpp") in touched]


def tidy_stage(build, names=(), everything=False):
    outcome = Outcome()
    if not shutil.which("clang-tidy"):
        outcome.note = "skipped: clang-tidy is not installed"
        return outcome
    commands = json.loads((build / "compile_commands.json").read_text())
    compiled = {ROOT / entry["file"] for entry in commands}
    paths = sorted(path for path in compiled if path.is_relative_to(ROOT / "src"))
    if names:
        paths = [path for path in paths if any(name in str(path) for name in names)]
    elif not everything:
        every = len(paths)
        paths = changed(paths)
        outcome.note = f"{len(paths)} of {every} files, those changed last; --all takes all"

    # clang cannot read the headers that another compiler precompiled
    for entry in commands:
        entry["command"] = re.sub(r" -Winvalid-pch| -include \S+cmake_pch\.hxx", "", entry["command"])
    database = build / "without_precompiled"
    database.mkdir(exist_ok=True)
    (database / "compile_commands.json").write_text(json.dumps(commands))

    def one(path):
        done = subprocess.run(["clang-tidy", "--quiet", "-p", str(database), "--warnings-as-errors=*",
                               "--extra-arg=-Wno-unknown-warning-option", str(path)],
                              capture_output=True, text=True, check=False, cwd=ROOT)
        return done.stdout.replace(f"{ROOT}/", "") + done.stderr[-1500:] if done.returncode else ""

    for path, text in zip(paths, each(one, paths)):
        outcome.check(not text, f"clang-tidy {path.relative_to(ROOT)}\n{text}")
    return outcome
