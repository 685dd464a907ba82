"""Times whole processes: many runs, turn by turn, so that a busy moment of the machine meets all of them alike."""
import argparse
import os
import platform
import statistics
import sys
import time
from pathlib import Path

parser = argparse.ArgumentParser(prog="tests/bench/run")
parser.add_argument("root", type=Path)
parser.add_argument("--runs", type=int, default=200)
parser.add_argument("--limit", type=float, help="milliseconds; exit status 1 when the median of check is above")
chosen = parser.parse_args()

folder = chosen.root / "build/bench"
check = [str(folder / "matchmark"), "check", "builds/market_day_van/van.build", "--rules", "rules"]
commands = {
    "empty program": [str(folder / "empty_program")],
    "matchmark --version": [str(folder / "matchmark"), "--version"],
    "matchmark check": check,
    "matchmark check --json": [*check, "--json"],
}
nowhere = os.open(os.devnull, os.O_RDWR)
os.chdir(chosen.root)


def once(command):
    begin = time.perf_counter_ns()
    process = os.posix_spawn(command[0], command, os.environ,
                             file_actions=[(os.POSIX_SPAWN_DUP2, nowhere, 1), (os.POSIX_SPAWN_DUP2, nowhere, 2)])
    _, status = os.waitpid(process, 0)
    return (time.perf_counter_ns() - begin) / 1e6, os.waitstatus_to_exitcode(status)


for name, command in commands.items():
    status = once(command)[1]
    if status not in (0, 1, 2):
        sys.exit(f"{name}: exit status {status}")
times = {name: [] for name in commands}
for _ in range(chosen.runs):
    for name, command in commands.items():
        times[name].append(once(command)[0])

print(f"{chosen.runs} runs each, milliseconds from start to end; {os.cpu_count()} processors, {platform.machine()}, "
      f"load {os.getloadavg()[0]:.1f}")
print(f"{'':24}{'median':>9}{'least':>9}{'9 of 10 below':>15}")
for name, values in times.items():
    values.sort()
    print(f"{name:24}{statistics.median(values):9.2f}{values[0]:9.2f}{values[int(len(values) * 0.9)]:15.2f}")
median = statistics.median(times["matchmark check"])
if chosen.limit and median > chosen.limit:
    sys.exit(f"the median of check, {median:.2f} ms, is above {chosen.limit} ms")
