"""The fuzz targets (tests/fuzz): each for some seconds, with the project's texts to begin with and the grammar's words to put
in. Longer by hand: bash tests/run --no-install fuzz --seconds 600."""
import re
import shutil
import subprocess

from outcome import Outcome, ROOT, each, environment, run_group

FOLDER = ROOT / "build/fuzz"
LONGEST = 20000  # bytes of a text to begin with
SHORT = 2000
SIGNS = ["{", "}", "(", ")", "[", "]", "\\\"", ":", ";", ",", ".", "..", "=", "!=", "<", "<=", ">", ">=", "+", "-", "*", "/", "^", "+-", "#", "?",
         "%", "\\\\n", "1 1/4 in", "1e99", "0.1 mm", "2026-03-14", " of ", " x ", "{a: count}", "[b]", "\\x0A"]


def words():
    """A dictionary for the fuzzer: the words of the grammar, its signs, and some units."""
    found = set()
    for path in sorted((ROOT / "grammar").glob("*.hpp")):
        text = path.read_text(encoding="utf-8")
        found |= set(re.findall(r'\b(?:word|keyword_only|introducer)<"(\w+)">', text))
        for listed in re.findall(r"one_word_of<([^>]*)>", text):
            found |= set(re.findall(r'"(\w+)"', listed))
    for source in ("src/resolve/compile_calls.cpp", "src/units/dimension_words.cpp"):
        found |= set(re.findall(r'\{"(\w+)",', (ROOT / source).read_text(encoding="utf-8")))
        found |= set(re.findall(r'BuiltIn\{"(\w+)",', (ROOT / source).read_text(encoding="utf-8")))
    units = re.findall(r'MM_UNIT\("(\w+)"', (ROOT / "src/units/builtin_units.def").read_text(encoding="utf-8"))
    return [f"{word} " for word in sorted(found)] + sorted(units)[::8] + SIGNS


def whole(path, seen=()):
    """A file with the files that it uses put before it."""
    text = path.read_text(encoding="utf-8")
    before = ""
    for used in re.findall(r'^\s*use "([^"]+)"\s*$', text, re.M):
        other = (path.parent / used).resolve()
        if other.is_file() and other not in seen:
            seen = (*seen, other)
            before += whole(other, seen)
    return before + re.sub(r'^\s*use "[^"]+"\s*$', "", text, flags=re.M)


def seeds():
    folder = FOLDER / "seeds"
    folder.mkdir(exist_ok=True)
    for name in ("rules", "builds", "examples", "tests/cases"):
        for path in sorted((ROOT / name).rglob("*")):
            if path.suffix not in (".rules", ".parts", ".build", ".case"):
                continue
            text = (path.read_text(encoding="utf-8") if path.suffix == ".case" else whole(path)).encode()
            if len(text) < LONGEST:
                (folder / "_".join(path.relative_to(ROOT).parts)).write_bytes(text)
    (FOLDER / "words.dict").write_text("".join(f'"{word}"\n' for word in words()), encoding="utf-8")
    return folder


def one(target, seconds, folder):
    """Half of the time on texts cut short, of which there are a thousand in a second, and half on whole ones. Without entropic:
    that weighs every text by all that the program reached, which takes more than the ten seconds for the texts to begin with."""
    found = FOLDER / f"corpus_{target.name}"
    found.mkdir(exist_ok=True)
    runs = 0
    for longest in (SHORT, LONGEST):
        status, output = run_group(
            [str(target), f"-max_total_time={max(seconds // 2, 1)}", "-timeout=120", "-rss_limit_mb=2048", "-entropic=0",
             f"-max_len={longest}", f"-dict={FOLDER}/words.dict", f"-artifact_prefix={FOLDER}/{target.name}-", str(found), str(folder)],
            seconds + 300, stderr=subprocess.STDOUT, env=environment(target), cwd=FOLDER)
        text = output.decode("utf-8", "backslashreplace")
        if status != 0:
            break
        runs += sum(map(int, re.findall(r"^Done (\d+) runs", text, re.M)))
    return target.name, status, text, runs


def stage(build, seconds, names=()):
    outcome = Outcome()
    if not shutil.which("clang++"):
        outcome.note = "skipped: clang is not installed"
        return outcome
    sources = sorted((ROOT / "tests/fuzz").glob("fuzz_*.cpp"))
    chosen = [path.stem for path in sources if not names or any(name in path.stem for name in names)]
    outcome.add(build("fuzz", *chosen))
    if outcome.failures:
        return outcome
    folder = seeds()
    tried = []
    for name, status, text, runs in each(lambda name: one(FOLDER / name, seconds, folder), chosen):
        outcome.check(status == 0, f"{name}: exit status {status}\n{text[-6000:]}")
        tried.append(f"{name} {runs} texts")
    if not chosen:
        outcome.failures.append("there is no such fuzz target")
    outcome.note = ", ".join(tried)
    return outcome
