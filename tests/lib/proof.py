"""The proof that verdicts are right: random projects against an independent judge (tests/proof), and the same
requirements against the solver z3."""
import re
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor

from outcome import JOBS, Outcome, run_group

GAPS_ALLOWED = 3  # in a hundred: open by our checker, decided by the solver
GIVEN_UP_ALLOWED = 200  # one in so many of the open: neither worlds nor undefined
UNSTATED_ALLOWED = 1000  # the same, where no precision is stated either


def judged(program, worlds, seed):
    """Verdicts against sampled worlds, and the worlds that prove an unknown judged again."""
    outcome = Outcome()
    if not program.exists():
        return Outcome(failures=["the program proof was not built"])
    status, output = run_group([str(program), "--worlds", str(worlds), "--seed", str(seed)], 120 + worlds // 5000,
                               stderr=subprocess.STDOUT)
    text = output.decode("utf-8", "backslashreplace")
    summary = re.search(r"^scenes (\d+) requirements (\d+) worlds (\d+) .*?contradictions (\d+)$", text, re.M | re.S)
    if status is None or not summary:
        return Outcome(failures=[f"proof ended with status {status}\n{text[-4000:]}"])
    requirements, sampled = int(summary[2]), int(summary[3])
    contradictions = text.split("CONTRADICTION")[1:]
    outcome.passed = requirements - len(contradictions)
    outcome.failures = ["CONTRADICTION" + one[:3000] for one in contradictions]
    verdicts = {word: int(n) for word, n in re.findall(r"^verdict (\w+) (\d+)$", text, re.M)}
    counts = re.search(r"^open certified (\d+) undefined (\d+) at a stated precision (\d+) without (\d+) neither (\d+)$", text, re.M)
    certified, undefined, stated, without, neither = map(int, counts.groups())
    again, left = map(int, re.search(r"^certificates rechecked (\d+) open (\d+)$", text, re.M).groups())
    outcome.check(sampled >= worlds or contradictions, f"only {sampled} worlds were sampled")
    for word in ("fits", "conflict", "unknown", "not_applicable", "setting"):
        outcome.check(verdicts.get(word, 0) > 0, f"no requirement came to {word}: the generator does not reach it")
    outcome.check(left * 20 <= again, f"the judge left {left} of {again + left} certificate worlds undecided")
    opened = certified + undefined + stated + without + neither
    outcome.check((stated + without) * GIVEN_UP_ALLOWED <= opened, f"{stated + without} of {opened} open ones are given up")
    outcome.check(without * UNSTATED_ALLOWED <= opened, f"{without} of {opened} open ones have no stated precision")
    outcome.note = (f"{sampled} worlds; of {opened} open: {certified} certified, "
                    f"{undefined} undefined, {stated} at a stated precision, {without} without, {neither} neither; "
                    f"{again} certificate worlds judged again")
    return outcome


def asked(questions):
    """What z3 says to (echo "@ id name") (check-sat): {(id, name): sat, unsat or unknown}."""
    try:
        done = subprocess.run(["z3", "-in", "-smt2"], input=questions, capture_output=True, text=True, timeout=120, check=False)
        text = done.stdout
    except subprocess.TimeoutExpired as late:
        text = (late.stdout or b"").decode("utf-8", "replace")
    answers, last = {}, None
    for line in text.splitlines():
        if line.startswith("@ "):
            last = tuple(line.split()[1:3])
        elif last and line in ("sat", "unsat", "unknown", "timeout"):
            answers[last] = line
            last = None
        elif line.startswith("(error"):
            answers["error"] = line
    return answers


def second_opinion(program, requirements, seed, timeout_ms=200):
    """fits: no world where it does not hold; conflict: none where it does not fail; unknown: both exist."""
    if not program.exists():
        return Outcome(failures=["the program proof was not built"])
    if not shutil.which("z3"):
        return Outcome(note="skipped: z3 is not installed")
    outcome = Outcome()
    done = subprocess.run([str(program), "--smt", str(requirements), "--seed", str(seed), "--timeout", str(timeout_ms)],
                          capture_output=True, text=True, check=False)
    blocks = [";@" + block for block in done.stdout.split(";@")[1:]]
    batches = ["".join(blocks[i:i + 40]) for i in range(0, len(blocks), 40)]
    answers = {}
    with ThreadPoolExecutor(JOBS) as pool:
        for found in pool.map(asked, batches):
            answers.update(found)
    outcome.check("error" not in answers, f"z3 does not take a question: {answers.get('error')}")
    agreed = gaps = silent = 0
    gap_texts = []
    for block in blocks:
        head, _, _ = block.partition("\n")
        _, name, verdict, certified, precision, requirement = head.split(" ", 5)
        not_yes, not_no, applies = (answers.get((name, ask), "unknown") for ask in ("not_yes", "not_no", "applies"))
        opened = verdict in ("unknown", "setting")
        forbidden = {"fits": not_yes == "sat", "conflict": not_no == "sat", "not_applicable": applies == "sat"}
        wrong = forbidden.get(verdict, certified == "certified" and "unsat" in (not_yes, not_no))
        if wrong:
            outcome.failures.append(f"{name}: {verdict}, but z3 says: a world where it does not hold {not_yes}, where it does "
                                    f"not fail {not_no}, where it applies {applies}\n need {requirement}")
            continue
        outcome.passed += 1
        looser = (opened and "unsat" in (not_yes, not_no)) or (verdict == "fits" and applies == "unsat")
        gaps += looser
        if looser:
            gap_texts.append(f"open, decided by z3 ({verdict}, {precision}): {requirement}")
        sure = {"fits": not_yes == "unsat", "conflict": not_no == "unsat", "not_applicable": applies == "unsat"}
        agreed += sure.get(verdict, not_yes == "sat" and not_no == "sat") and not looser
        silent += not looser and "unknown" in (not_yes, not_no)
    outcome.check(gaps * 100 <= GAPS_ALLOWED * max(len(blocks), 1), "\n".join([f"{gaps} of {len(blocks)} not decided by us"] + gap_texts))
    outcome.check(agreed * 10 >= 8 * max(len(blocks), 1), f"z3 agreed on {agreed} of {len(blocks)} only")
    outcome.note = f"z3 agrees on {agreed} of {len(blocks)}, decides {gaps} that we leave open, leaves {silent} open itself"
    outcome.gaps = gap_texts
    return outcome
