"""The frequency that sun and strings allow a pump at the hot noon, for every length and number of strings."""

import numpy as np

import year_tracking
from year_devices import Cable
from year_flux import FluxRule


class Speeds:
    """Of one pump set with up to so many `modules` of a plant; `plant` has module, curve and noon."""

    def __init__(self, plant, pump_set, modules):
        self.pumps = pump_set["pumps"]
        rating = self.pumps.rating
        derating = rating.derating(plant["hottest_c"])
        self.limit_a = rating.limit_a(derating)
        self.most_flow = min(self.pumps.well_flow, rating.most_flow(self.pumps, derating))
        tracking = float(year_tracking.of_drive(pump_set["values"], 0.0))
        pairs = [(s, p) for s in range(1, modules + 1) for p in range(1, modules // s + 1)]
        self.of_pair = dict(zip(pairs, speeds(self, strings(plant, pairs), tracking)))

    def hz(self, series, parallel):
        return self.of_pair[series, parallel]

    def top_hz(self):
        """What pump, well and drive allow then."""
        return self.pumps.hz(self.most_flow) if self.most_flow > 0.0 else 0.0


def strings(plant, pairs):
    """(series, parallel) as the steps of one group."""
    one, noon, module = plant["hot"], plant["noon"], plant["module"]
    series, parallel = (np.array(numbers, float) for numbers in zip(*pairs))
    stc_w = series * parallel * module["v_mp_v"] * module["i_mp_a"]
    return {
        "effective_w_m2": np.full(len(pairs), noon["effective_w_m2"]),
        "cell_c": np.full(len(pairs), noon["cell_c"]),
        "fitted": plant["fitted"],
        "current_factor": parallel * noon["current_factor"],
        "in_series": series,
        "v_mp_v": series * one["v_mp_v"][0],
        "p_mp_w": series * parallel * one["p_mp_w"][0],
        "k": noon["cable_k"] / stc_w,
    }


def speeds(limits, group, tracking):
    """Hz of every pair; 0 where it cannot start."""
    pumps = limits.pumps
    count = len(group["p_mp_w"])
    flows, bound = np.zeros(count), []
    left_w = (1.0 - tracking) * group["p_mp_w"]
    for index in range(count):
        cable = Cable(float(group["k"][index]), 1.0)
        offered_w = cable.end_w(float(left_w[index]))
        if limits.most_flow == 0.0 or offered_w < pumps.at(pumps.start_flow)["drive_in_w"]:
            continue
        flows[index] = pumps.flow_for_drive_in_w(offered_w, limits.most_flow)
        seen_v = group["v_mp_v"][index] * (1.0 - group["k"][index] * group["p_mp_w"][index])
        if seen_v < pumps.need_v(pumps.hz(flows[index])):
            bound.append(index)
    if bound:
        limit_a = np.full(len(bound), limits.limit_a)
        rule = FluxRule(pumps, [group], bound, left_w[bound], group["k"][bound], limit_a)
        flows[bound] = rule.solve(flows[bound])[0]
    return [pumps.hz(flow) if flow > 0.0 else 0.0 for flow in flows.tolist()]
