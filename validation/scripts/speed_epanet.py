"""Times EPANET's solver on the pump sets of data/epanet_sets.json, with a different speed at each solve; prints JSON.

`python speed_epanet.py SOLVES`. Each network is built and its hydraulics opened once. A loop of setting the speed, `initH` and
`runH` is timed. The same loop with calls that solve nothing measures the cost of Python's calls, given separately.
"""

import json
import sys
import time

from epanet import toolkit as en

import common
import epanet_duty

GOLDEN = 0.6180339887498949


def speeds(spec, count):
    """Between the set's minimum and full speed, each far from the previous one."""
    least = min(spec["speeds"])
    return [least + (1.0 - least) * ((i * GOLDEN) % 1.0) for i in range(count)]


def solving_s(handle, pump, wanted):
    begin = time.perf_counter()
    for speed in wanted:
        en.setlinkvalue(handle, pump, en.INITSETTING, speed)
        en.initH(handle, en.INITFLOW)
        en.runH(handle)
    return time.perf_counter() - begin


def calling_s(handle, pump, wanted):
    """Three calls, none of which solves."""
    begin = time.perf_counter()
    for speed in wanted:
        en.setlinkvalue(handle, pump, en.INITSETTING, speed)
        en.getlinkvalue(handle, pump, en.FLOW)
        en.getlinkvalue(handle, pump, en.FLOW)
    return time.perf_counter() - begin


def mean_flow_m3_h(handle, pump, wanted):
    total = 0.0
    for speed in wanted:
        en.setlinkvalue(handle, pump, en.INITSETTING, speed)
        en.initH(handle, en.INITFLOW)
        en.runH(handle)
        total += en.getlinkvalue(handle, pump, en.FLOW)
    return total / len(wanted)


def timed(spec, count):
    wanted = speeds(spec, count)
    with epanet_duty.project() as handle:
        pump, _, _ = epanet_duty.build(handle, spec)
        en.openH(handle)
        flow = mean_flow_m3_h(handle, pump, wanted)
        found = {
            "set": spec["name"],
            "seconds": solving_s(handle, pump, wanted),
            "calls_s": calling_s(handle, pump, wanted),
            "mean_flow_m3_h": flow,
        }
        en.closeH(handle)
    return found


def main():
    count = int(sys.argv[1])
    with open(common.DATA / epanet_duty.SETS_FILE, encoding="utf-8") as file:
        specs = json.load(file)
    version = f"owa-epanet {common.metadata.version('owa-epanet')}"
    json.dump({"solves": count, "sets": [timed(spec, count) for spec in specs], "version": version}, sys.stdout)


if __name__ == "__main__":
    main()
