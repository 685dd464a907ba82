"""Nothing that stands in a file, or in its name, steers the terminal: control characters, escape sequences and signs that turn
the line round or hide are spelled out, in every report of every verb, in messages, and in JSON.

Each place of the language where text can stand gets a word of its own and, behind it, the signs. Every report is then
searched for the signs; and each word must stand in some report, so that none of the places is tested in vain."""
import json
import os
import pty
import re
import select
import subprocess
import tempfile
from pathlib import Path

from outcome import environment

SIGNS = "\x1b]0;t\x07\x1b[2J\x9b31m\x08\x7f\u202e\u2066\u200f\u200b\u2028\u2029\ufeff\u061c\u00ad\U000e0041\ufff9"
SIGNS += "\u034f\u0600\u06dd\u115f\u17b4\u180b\u2800\u3164\ufdd0\ufe0f\uffa0\uffff\U000e0100\U0001bca0\U0001d173\U0010fffe"
STEER = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u00ad\u034f\u0600-\u0605\u061c\u06dd\u070f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f\u2028-\u202e"
                   "\u2060-\u206f\u2800\u3164\ufdd0-\ufdef\ufe00-\ufe0f\ufeff\uffa0\ufff9-\uffff\U0001bca0-\U0001bca3\U0001d173-\U0001d17a"
                   "\U0001fffe\U0001ffff\U000e0000-\U000e01ef\U0010fffe\U0010ffff]")
OURS = re.compile(r"\x1b\[[0-9;]*m")  # colours of the report itself

SHOWN = """\
interface i "@interface" {
  side a { x: length in 0 mm..9 mm "@side_doc" measure "@side_measure"  size: thread }
  side b { x: length in 0 mm..9 mm }
  need alike: a.x within 0.1 mm of b.x { because "@because" source "@source" remedy "@remedy {a.x}" hazard brakes }
  should known: a.x >= 1 mm { because "@because_open" source "@source_open" remedy "@remedy_open" }
  caution look: a.x > 99 mm { because "@because_caution" remedy "@remedy_caution" }
  need asked: cells[key = a.x].value >= 9 mm
}
designation thread "@designation" { form metric "M{d: mm}" }
table cells "@table" { key: mm value: mm
  1 1
  3 3
  source "@table_source" }
table words "@words" { word: text
  "@cell"
  source "@words_source" }
formula twice(x: length): length = 2 * x { source "@formula" }
kind k "@kind" { face f: i.a  own: length "@attribute" measure "@measure"  word: text }
kind l "@kind_l" { face f: i.b }
part p "@part" is k { own ? per claimed "@evidence"  word "@word"  seller "@seller"  tag "@tag"  note "@note"
  f { x 1 mm per measured "@evidence_face"  size "M8" } }
part q "@part_q" is l { f.x 3 mm per hearsay "@evidence_q" }
part q2 "@part_q2" is l { f.x 4 mm }
part spare "@spare" is l { f.x 3 mm }
rule r "@rule" { for v: k need own_known: twice(v.own) >= 1 mm { because "@because_rule" source "@source_rule" remedy "@remedy_rule" }
  need word_known: v.word = "@other" or (v.word) in words { remedy "@remedy_word" } }
build rig "@build" {
  fit p: p
  fit q: one of q, q2
  join p.f + q.f
  rework W "@rework" on q { f.x 1 mm per measured "@evidence_rework" } planned by "@by"
  waive known on p because "@waive" by "@waive_by" until 2026-03-14
  stage s "@stage" uses p, q
}
trial "@trial" {
  part p is k { f.x 1 mm }
  part q is l { f.x 3 mm }
  fit p: p
  fit q: q
  join p.f + q.f
  expect fits alike
  expect that twice(1 mm) > 9 mm
}
"""
# Said nowhere today; a report that begins to say them is searched all the same.
UNSEEN = {"designation", "table", "words", "words_source", "formula", "cell", "rule", "seller", "tag", "note", "stage",
          "because_open", "remedy_open", "source_open", "because_caution", "remedy_caution", "kind_l", "part_q2"}
WRONG = {  # each with its own errors; the text is quoted in messages
    "unknown_use": 'use "@use.rules"\n', "outside": 'use "../@outside"\n', "not_a_size": 'designation d "X{a: count}"\nkind k { s: d }\npart p is k { s "@size" }\n',
    "text_for_number": 'kind k { s: length }\npart p is k { s "@text" }\n', "open_text": 'kind k "@open\n', "bare": "kind k { @bare }\n",
    "unit": "kind k { s: length }\npart p is k { s 1 @unit }\n", "comment": "kind k { s: lenght } # @comment\n",
    "name": "part p@name is k { }\n", "escape": 'kind k "\\q @escape" { }\n', "date": 'kind k { s: date }\npart p is k { s "@date" }\n',
    "choice": 'kind k { s: one of a, b }\npart p is k { s "@choice" }\n', "currency": "currency @currency\n",
    "many_lines": 'kind k "@first\nfollows" { }\n', "compared": 'kind k { s: length }\nrule r { for v: k need a: v.s = "@compared" }\n',
}


NO_TEXT = (b"\xed\xa0\x80", b"\xe0\x81\x81", b"\xf0\x80\x81\x81", b"\xf4\x90\x80\x80", b"\xc1\x81", b"\xe2\x82", b"\x9b31m")  # no UTF-8


def filled(text):
    return re.sub(r"@(\w+)", lambda match: f"zq_{match[1]}_{SIGNS}", text)


def bare(output):
    return OURS.sub("", output)


def run(program, words, folder):
    done = subprocess.run([str(program), *words], cwd=folder, env=environment(program), stdin=subprocess.DEVNULL, capture_output=True, check=False)
    return done.returncode, done.stdout.decode("utf-8", "surrogateescape"), done.stderr.decode("utf-8", "surrogateescape")


def on_terminal(program, words, folder):
    """What reaches a terminal of 80 columns."""
    master, slave = pty.openpty()
    process = subprocess.Popen([str(program), *words], cwd=folder, env={**environment(program), "TERM": "xterm"}, stdin=slave, stdout=slave,
                               stderr=slave, close_fds=True)
    os.close(slave)
    output = b""
    while select.select([master], [], [], 30)[0]:
        try:
            piece = os.read(master, 65536)
        except OSError:
            break
        if not piece:
            break
        output += piece
    process.wait(timeout=30)
    os.close(master)
    return output.decode("utf-8", "surrogateescape").replace("\r\n", "\n")


def no_text(program, name):
    """What is wrong, in a folder whose name is no UTF-8: the bytes are spelled out, also where a path is told in JSON."""
    with tempfile.TemporaryDirectory(prefix="matchmark-bytes-") as folder:
        inner = os.path.join(folder.encode(), b"zq_" + name)
        os.mkdir(inner)
        file = os.path.join(inner, b"main.build")
        for text, statuses in ((filled(SHOWN), (1,)), ("part p is k { }\n", (3,))):
            Path(os.fsdecode(file)).write_text(text, encoding="utf-8")
            for words in ([b"check", file], [b"check", file, b"--json"], [b"list", file], [b"list", file, b"--json"], [b"trial", file, b"--json"],
                          [b"why", file, b"alike", b"--json"]):
                done = subprocess.run([os.fsencode(program), *words], env=environment(program), stdin=subprocess.DEVNULL, capture_output=True, check=False)
                told = f"matchmark {words[0].decode()} in a folder named {name!r}"
                if done.returncode not in (statuses if words[0] == b"check" else (0, 1, 2, 3)):
                    return f"{told}: exit status {done.returncode}: {done.stderr[:300]!r}"
                try:
                    (done.stdout + done.stderr).decode("utf-8")
                except UnicodeDecodeError as wrong:
                    return f"{told}: {wrong}"
    return ""


def verbs(file, of_json=True):
    """Every command that reads the file and prints something."""
    forms = [[], ["--color", "always"], *([["--json"]] if of_json else [])]
    made = [["check", file, *more, *form] for more in ([], ["--all"]) for form in forms]
    for asked in ("alike", "known", "look", "asked", "own_known", "word_known", "quantity", "open", "nothing_such"):
        made += [["why", file, asked, *form] for form in forms]
    made += [["trial", file, *form] for form in forms] + [["list", file, *more, *form] for more in ([], ["k"], ["i"], ["l"]) for form in forms]
    return made + [["tidy", "--check", file], ["check", file, "--build", "zq_asked_" + SIGNS], ["list", file, "zq_list_" + SIGNS],
                   ["why", file, "zq_requirement_" + SIGNS], ["why", file, "alike", "on", "zq_on_" + SIGNS]]


def stage(program):
    """Texts of what is wrong; "" for a check that passed."""
    texts, seen = [], ""

    def look(words, output, where):
        found = STEER.search(bare(output))
        told = " ".join(repr(word)[1:-1] if STEER.search(word) else word for word in words)
        near = bare(output)[max(0, found.start() - 60):found.start() + 20] if found else ""
        texts.append("" if not found else f"matchmark {told[:150]}: U+{ord(found[0]):04X} reaches {where}: {near!r}")

    with tempfile.TemporaryDirectory(prefix="matchmark-escape-") as folder:
        name = f"zq_file_{SIGNS}".replace("/", "") + ".build"
        Path(folder, name).write_text(filled(SHOWN), encoding="utf-8")
        for words in verbs(name):
            status, out, err = run(program, words, folder)
            if status not in (0, 1, 2, 4):
                texts.append(f"matchmark {words[0]}: exit status {status}: {err[:400]}")
            look(words, out + err, "a pipe")
            seen += out + err
            if "--json" in words and out:
                for text in strings(json.loads(out)):
                    look(words, text, "whoever reads the JSON")
        for words in (["tidy", name], ["check", name, "--all"], ["list", name, "k", "i"], ["trial", name], ["why", name, "alike"]):
            output = on_terminal(program, words, folder)
            look(words, output, "a terminal")
            seen += output
        for case, text in WRONG.items():
            file = f"{case}.build"
            Path(folder, file).write_text(filled(text), encoding="utf-8")
            for words in (["check", file], ["check", file, "--rules", "."], ["trial", file], ["list", file], ["why", file, "x"], ["tidy", file]):
                status, out, err = run(program, words, folder)
                look(words, out + err if words[0] != "tidy" else err, "a pipe")
                seen += err
        for words in ([f"zq_verb_{SIGNS}"], ["check", f"zq_missing_{SIGNS}"], ["check", name, "--rules", f"zq_rules_{SIGNS}"],
                      ["check", name, "--today", SIGNS], ["check", name, "--color", SIGNS], ["check", name, "--max-errors", SIGNS],
                      ["schema", f"zq_schema_{SIGNS}"], ["check", name, f"--{SIGNS}"], ["tidy", "--write", f"zq_write_{SIGNS}"]):
            status, out, err = run(program, words, folder)
            look(words, out + err, "a pipe")
            if status not in (3, 4):
                texts.append(f"matchmark {words[0]!r}: exit status {status}")
    texts += [no_text(program, name) for name in NO_TEXT]
    places = set(re.findall(r"@(\w+)", SHOWN + "".join(WRONG.values()))) | {"file", "asked", "list", "requirement"}
    for place in sorted(places - UNSEEN):
        texts.append("" if f"zq_{place}_" in seen else f"no report shows the text zq_{place}_: nothing is tested there")
    return texts


def strings(value):
    if isinstance(value, dict):
        for key, one in value.items():
            yield key
            yield from strings(one)
    elif isinstance(value, list):
        for one in value:
            yield from strings(one)
    elif isinstance(value, str):
        yield value
