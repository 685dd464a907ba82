"""Findings of a `check --json` report as lines to compare with.

    conflict lug_circle on wheel_front, hub_front; misses by 6.3 mm; evidence measured

The head, before the first `;`, is the verdict, the requirement and its subjects; an expectation may leave the
subjects out. What follows are facts of the finding, of which an expectation names those that it is about.
"""
from dataclasses import dataclass


@dataclass
class Found:
    head: str
    facts: list

    @property
    def short(self):
        return self.head.split(" on ")[0]

    def meets(self, expected):
        head, *facts = [piece.strip() for piece in expected.split(";")]
        return head in (self.head, self.short) and all(fact in self.facts for fact in facts)

    def line(self):
        return "; ".join([self.head, *self.facts])


def number(value):
    return f"{value:.6g}"


def blame_facts(blame):
    unit = f" {blame['unit']}" if blame["unit"] else ""
    if blame["missing"]:
        yield f"find out {blame['name']}"
    else:
        yield f"measure {blame['name']}"
    if blame["needed_half_width"] is not None:
        yield f"measure {blame['name']} to {number(blame['needed_half_width'])}{unit}"
    for key, end, words in (("fits", "from", "fits from"), ("fits", "to", "fits up to"),
                            ("fails", "from", "fails from"), ("fails", "to", "fails up to")):
        for region in blame[key]:
            if region[end] is not None:
                yield f"{blame['name']} {words} {number(region[end])}{unit}"


def facts_of(finding, values):
    yield finding["text"]
    for key, words in (("hazard", "hazard"), ("settles_at", "settles at"), ("because", "because"), ("remedy", "remedy"),
                       ("source", "source"), ("joint", "joint"), ("place", "place")):
        if finding.get(key):
            yield f"{words} {finding[key]}"
    if finding["weight"] != "need":
        yield finding["weight"]
    if finding.get("waiver"):
        yield "waiver expired" if finding["waiver"]["expired"] else "waiver holds"
    if finding["cases"]:
        shown = finding["cases"][finding["shown_case"]]
        if shown["margin_text"]:
            yield shown["margin_text"]
        if shown["evidence"]:
            yield f"evidence {shown['evidence']}"
        if shown["undefined"]:
            yield f"undefined: {shown['undefined']}"
        if shown["rows_disagree"]:
            yield shown["rows_disagree"]
        if shown["open_cell"]:
            yield shown["open_cell"]
        for key in ("disputed", "default_spread", "precision_limit"):
            if shown[key]:
                yield key.replace("_", " ")
        if shown["precision_text"]:
            yield shown["precision_text"]
        for blame in shown["blames"]:
            yield from blame_facts(blame)
        for read in (values[number] for number in shown["reads"]):
            yield f"reads {read['name']}"
            if "default_spread" in read["flags"]:
                yield f"reads {read['name']} {read['text']}"
    for case in finding["cases"]:
        state = [*case["choices"].values(), *case["reworks"]]
        if state:
            yield f"{' + '.join(state)}: {case['word'].replace('_', ' ')}"


def found(report):
    everything = []
    for build in report["builds"]:
        heads = {}
        for index, finding in enumerate(build["findings"]):
            waived = "waived " if finding["waived"] else ""
            short = f"{waived}{finding['verdict'].replace('_', ' ')} {finding['requirement']}"
            heads[index] = finding["requirement"]
            subjects = ", ".join(finding["subjects"])
            everything.append(Found(f"{short} on {subjects}" if subjects else short, list(facts_of(finding, build["values"]))))
        for loose in build["graph"]:
            name = loose["subject"] or loose["part"]
            facts = [f"needed {number(loose['needed'])}", f"there {number(loose['there'])}"]
            if loose["hand"]:
                facts.append(f"hand {loose['hand']}")
            everything.append(Found(f"{loose['what'].replace('_', ' ')} {name}", facts))
        for group in build["conflict_sets"]:
            names = ", ".join(sorted(heads[member["finding"]] for member in group["findings"]))
            everything.append(Found(f"conflict set {names}", [f"pulls {value}" for value in group["values"]]))
        for group in build["no_choices"]:
            names = ", ".join(sorted({heads[finding] for finding in group["findings"]} | set(group["too_few"])))
            everything.append(Found(f"no choice {names}", [group["text"]]))
    return everything


def compare(expected, got):
    """Text of the expectations that nothing meets and of the findings that nobody expected."""
    left = list(got)
    texts = []
    # the more an expectation says, the earlier it chooses
    for line in sorted(expected, key=lambda text: -len(text)):
        match = next((one for one in left if one.meets(line)), None)
        if match is None:
            texts.append(f"- {line}")
        else:
            left.remove(match)
    texts += [f"+ {one.line()}" for one in left]
    return "\n".join(["findings: expected but not there (-), there but not expected (+)", *texts]) if texts else ""
