"""Starts a command several times, on one core or on all, and prints its wall times, peak memories and last output as JSON.

`python speed_launch.py one|all TIMES COMMAND...`. The commands inherit the cores of this script. It imports little: the
peak memory that the kernel reports for a command is never less than that of the process that started it.
"""

import json
import os
import subprocess
import sys
import time

# Units of ru_maxrss: bytes on macOS, kilobytes elsewhere.
MAXRSS_BYTES = 1 if sys.platform == "darwin" else 1024


def hold_to_one_core():
    """Pins to the last core, as the first does most of the system's own work; False where the system cannot."""
    if not hasattr(os, "sched_setaffinity"):
        return False
    os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    return True


def once(command):
    """(seconds from start to exit, peak memory in bytes, output)"""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE)
    output = process.stdout.read()
    _, status, usage = os.wait4(process.pid, 0)
    wall_s = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        sys.exit(f"{command[0]} ended with {process.returncode}")
    return wall_s, usage.ru_maxrss * MAXRSS_BYTES, output.decode()


def main():
    cores, times, *command = sys.argv[1:]
    held = hold_to_one_core() if cores == "one" else False
    runs = [once(command) for _ in range(int(times))]
    found = {
        "held_to_one_core": held,
        "wall_s": [wall_s for wall_s, _, _ in runs],
        "peak_bytes": [peak for _, peak, _ in runs],
        "output": runs[-1][2],
    }
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main()
