"""What holds of the source as a whole: who includes whom, how long files are, what stands at the top."""
import re

from outcome import Outcome, ROOT, git

STEPS = ("base", "text", "messages", "syntax", "units", "interval", "model", "resolve", "evaluate", "solve", "report",
         "app")
SAME_RANK = {("units", "interval"), ("interval", "units")}  # beside each other, and apart
TOP = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "src", "grammar", "rules", "tests", "builds", "examples", "LICENSE",
       "CMakePresets.json"}
LONGEST = 300
INCLUDE = re.compile(r'^\s*#\s*include\s+(["<])([^">]+)[">]', re.M)


def sources():
    return sorted(path for folder in ("src", "grammar") for path in (ROOT / folder).rglob("*")
                  if path.suffix in (".cpp", ".hpp", ".def", ".inc"))


def step_of(path):
    parts = path.relative_to(ROOT).parts
    return parts[1] if parts[0] == "src" and len(parts) > 2 else None


def upward(path, text):
    """The includes of a file that a step must not make."""
    step = step_of(path)
    for _, target in INCLUDE.findall(text):
        other = target.split("/")[0]
        if other not in STEPS or "/" not in target or step is None:
            continue
        if STEPS.index(other) > STEPS.index(step) or (step, other) in SAME_RANK:
            yield target


def reaches_pegtl(path, texts, seen):
    """Includes the parser library itself, or through a header of ours."""
    if path in seen or path not in texts:
        return False
    seen.add(path)
    for _, target in INCLUDE.findall(texts[path]):
        if target.startswith("tao/"):
            return True
        for folder in (path.parent, ROOT / "src", ROOT / "grammar"):
            if reaches_pegtl(folder / target, texts, seen):
                return True
    return False


def named_twice(texts):
    """Types of one name in one namespace, as two files have them: then the linker takes the members of either."""
    places = {}
    for path, text in texts.items():
        spaces = []  # those that are open; at the margin stand only namespaces and what is directly in them
        for line in text.split("\n"):
            if opened := re.match(r"(?:inline )?namespace\s*([\w:]*)\s*{$", line):
                spaces.append(opened[1])
            elif re.match(r"}  // namespace", line) and spaces:
                spaces.pop()
            elif (made := re.match(r"(?:struct|class|union|enum class|enum struct|enum) (\w+)(?!\w|::)[^;<]*{", line)) and "" not in spaces:
                places.setdefault("::".join([*spaces, made[1]]), []).append(path.relative_to(ROOT))
    return [f"{name} is defined in {' and in '.join(map(str, found))}" for name, found in places.items()
            if len(found) > 1]


def stage():
    outcome = Outcome()
    texts = {path: path.read_text(encoding="utf-8") for path in sources()}
    wrong = [f"{path.relative_to(ROOT)} includes {target}, which comes after it"
             for path, text in texts.items() for target in upward(path, text)]
    outcome.check(not wrong, "\n".join(wrong))

    twice = named_twice(texts)
    outcome.check(not twice, "\n".join(twice))

    unknown = sorted({path.relative_to(ROOT).parts[1] for path in texts if step_of(path)} - set(STEPS))
    outcome.check(not unknown, f"folders of src that are no known step: {unknown}")

    users = [str(path.relative_to(ROOT)) for path in texts
             if path.suffix == ".cpp" and reaches_pegtl(path, texts, set())]
    outcome.check(len(users) == 1 and users[0].startswith("src/syntax/"),
                  f"the parser library is to be seen by one .cpp of src/syntax, but is seen by: {users}")

    lengths = {path: text.count("\n") for path, text in texts.items()}
    long = [f"{path.relative_to(ROOT)}: {n} lines, more than {LONGEST}" for path, n in lengths.items() if n > LONGEST]
    outcome.check(not long, "\n".join(long))

    headers = [str(path.relative_to(ROOT)) for path, text in texts.items()
               if path.suffix == ".hpp" and "#pragma once" not in text]
    outcome.check(not headers, f"headers without #pragma once: {headers}")

    tracked = git("ls-files")
    names = {name.split("/")[0] for name in tracked if name} if tracked else {path.name for path in ROOT.iterdir()} - {"build"}
    strangers = sorted(name for name in names if name not in TOP and not name.startswith("."))
    outcome.check(not strangers, f"these do not belong at the top: {strangers}")

    cars = re.compile(r"\b(wheel|tyre|brake|axle|caliper|gearbox|steering_rack)s?\b", re.I)
    named = [f"{path.relative_to(ROOT)}:{n}: {line.strip()}" for path, text in texts.items()
             if path.suffix == ".cpp" and step_of(path) in ("resolve", "evaluate", "solve")
             for n, line in enumerate(text.split("\n"), 1) if cars.search(line.split("//")[0])
             and not re.search(r"hazard", line)]
    outcome.check(not named, "the engine speaks of vehicles here:\n" + "\n".join(named))
    return outcome
