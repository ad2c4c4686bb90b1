"""A pump set on its string groups: its power at each step when water is wanted, on the sun alone."""

import numpy as np
from scipy.optimize import brentq

from year_curve import JointCurve
from year_devices import joint_cable
from year_flux import FluxRule

IDLE = {"flow": 0.0, "motor_w": 0.0, "beyond": 0.0, "runs": 0.0, "reduced": 0.0}


class Drive:
    """`air_c` and `tracking`, the share that is lost, are those of every step."""

    def __init__(self, pumpset, groups, air_c, tracking):
        self.pumpset, self.groups = pumpset, groups
        self.air_c, self.tracking = air_c, tracking
        self.most_flows = {}

    def most_flow(self, index):
        """Flow at the drive's limit in a step; 0 where not even the start keeps it."""
        rating = self.pumpset.rating
        derating = rating.derating(float(self.air_c[index]))
        if derating not in self.most_flows:
            self.most_flows[derating] = rating.most_flow(self.pumpset, derating)
        return self.most_flows[derating]

    def offers(self, index):
        return [float(group["p_mp_w"][index]) for group in self.groups]

    def is_ready(self, index, restart_power):
        offers = self.offers(index)
        left = (1.0 - float(self.tracking[index])) * sum(offers)
        cable = joint_cable(self.groups, offers)
        return left >= cable.begin_w(restart_power * self.pumpset.start["drive_in_w"])

    def run(self, steps):
        """Outcomes of steps by their number."""
        plans = {index: self.plan(index) for index in steps}
        open_ = [index for index in steps if "by_power" in plans[index]]
        bound = [index for index in open_ if not self.has_voltage(index, plans[index])]
        if self.pumpset.least_flux < 1.0:
            self.reduce_flux(bound, plans)
        else:
            for index in bound:
                plan = plans[index]
                curve = JointCurve(self.groups, index)
                plan["flow"] = self.voltage_flow(
                    curve, plan["cable"], plan["tracked"], plan["by_power"]
                )
        return {index: self.outcome(index, plan) for index, plan in plans.items()}

    def plan(self, index):
        """What the limits before the voltage rule leave; `by_power` only where some frequency is left."""
        pumpset, lost = self.pumpset, {}
        offers = self.offers(index)
        available = sum(offers)
        plan = {"available": available, "lost": lost}
        if available <= 0.0:
            return plan
        cable = plan["cable"] = joint_cable(self.groups, offers)
        left = plan["tracked"] = (1.0 - float(self.tracking[index])) * available
        if left < available:
            lost["tracking"] = available - left
        well_w = cable.begin_w(pumpset.well["drive_in_w"])
        if pumpset.well_flow < pumpset.full_flow and left > well_w:
            lost["well-limit"] = left - well_w
            left = well_w
        if left < cable.begin_w(pumpset.start["drive_in_w"]):
            lost["below-start"] = left
            return plan
        most_flow = min(pumpset.well_flow, self.most_flow(index))
        if most_flow == 0.0:
            lost["drive-limit"] = left
            return plan
        by_power = pumpset.flow_for_drive_in_w(cable.end_w(left), most_flow)
        return plan | {"left": left, "by_power": by_power, "flow": by_power, "flux": 1.0}

    def has_voltage(self, index, plan):
        """Whether even the voltage of maximum power allows full flux at what the power allows."""
        powers = zip(self.groups, self.offers(index))
        least_v = min(float(group["v_mp_v"][index]) for group, watts in powers if watts > 0.0)
        cable = plan["cable"]
        seen_v = least_v * (1.0 - cable.fraction * plan["available"] / cable.rated_w)
        return seen_v >= self.pumpset.need_v(self.pumpset.hz(plan["by_power"]))

    def reduce_flux(self, steps, plans):
        if not steps:
            return
        rating, chosen = self.pumpset.rating, [plans[index] for index in steps]
        limit_a = [rating.limit_a(rating.derating(float(self.air_c[index]))) for index in steps]
        cable_k = [plan["cable"].fraction / plan["cable"].rated_w for plan in chosen]
        tracked_w = [plan["tracked"] for plan in chosen]
        arrays = (np.array(values) for values in (steps, tracked_w, cable_k, limit_a))
        rule = FluxRule(self.pumpset, self.groups, *arrays)
        flows, shares = rule.solve(np.array([plan["by_power"] for plan in chosen]))
        for plan, flow, share in zip(chosen, flows.tolist(), shares.tolist()):
            plan["flow"], plan["flux"] = flow or None, share

    def voltage_flow(self, curve, cable, best_w, most_flow):
        """Largest flow at full flux that the voltage allows, up to `most_flow`; None when it does not even allow the start."""
        pumpset = self.pumpset

        def spare(flow):
            """Bus voltage above need when the groups give exactly the power of the point."""
            point = pumpset.at(flow)
            array_w = min(cable.begin_w(point["drive_in_w"]), best_w)
            seen_v = curve.greatest_v(array_w) * (1.0 - cable.fraction * array_w / cable.rated_w)
            return seen_v - pumpset.need_v(point["hz"])

        if spare(most_flow) >= 0.0:
            return most_flow
        if spare(pumpset.start_flow) < 0.0:
            return None
        return brentq(spare, pumpset.start_flow, most_flow, xtol=1e-14, rtol=1e-12)

    def outcome(self, index, plan):
        """Flow, powers and losses of one step, W."""
        pumpset, lost = self.pumpset, plan["lost"]
        if "by_power" not in plan:
            return IDLE | {"lost": lost}
        flow, left, cable = plan["flow"], plan["left"], plan["cable"]
        if flow is None:
            lost["voltage-limited-speed"] = left
            return IDLE | {"lost": lost}
        reduced, beyond = plan["flux"] < 1.0, 0.0
        point = pumpset.at(flow, plan["flux"])
        taken = cable.begin_w(point["drive_in_w"])
        if reduced and taken > left and "well-limit" in lost:
            # with less flux the well's frequency takes more than at full flux
            back = min(taken - left, lost["well-limit"])
            lost["well-limit"] -= back
            left += back
        taken = min(taken, left)
        if reduced:
            cause = self.cause_of_reduced(index, plan)
            lost[cause] = lost.get(cause, 0.0) + left - taken
        elif flow < plan["by_power"]:
            lost["voltage-limited-speed"] = left - taken
        elif left > taken and flow < pumpset.full_flow:
            lost["drive-limit"] = left - taken
        elif left > taken:
            lost["pump-at-full-speed"] = left - taken
            beyond = self.beyond(index, plan)
        dc = cable.end_w(taken)
        lost["drive-conversion"] = dc - point["output_w"]
        lost["cables"] = taken - dc + point["output_w"] - point["motor_w"]
        motor_w = point["motor_w"]
        return {
            "flow": flow, "motor_w": motor_w, "lost": lost, "beyond": beyond, "runs": 1.0,
            "reduced": float(reduced),
        }  # fmt: skip

    def cause_of_reduced(self, index, plan):
        """What keeps the frequency down while the flux is reduced; all that is left is booked to it."""
        pumpset, by_power = self.pumpset, plan["by_power"]
        rated, reaches = self.most_flow(index), lambda flow, limit: flow >= limit * (1.0 - 1e-9)
        if not reaches(plan["flow"], by_power):
            return "voltage-limited-speed"
        if pumpset.well_flow < pumpset.full_flow and reaches(by_power, pumpset.well_flow):
            return "well-limit"
        if not reaches(by_power, rated):
            return "voltage-limited-speed"
        return "drive-limit" if rated < pumpset.full_flow else "pump-at-full-speed"

    def beyond(self, index, plan):
        """W that the voltage rule would cut at full flux if there were no maximum frequency."""
        pumpset, cable = self.pumpset, plan["cable"]
        if pumpset.least_flux < 1.0:
            return 0.0
        dc_w, most = cable.end_w(plan["tracked"]), pumpset.full_flow
        while pumpset.at(most)["drive_in_w"] < dc_w:
            most *= 1.02
        by_power = pumpset.flow_for_drive_in_w(dc_w, most)
        flow = self.voltage_flow(JointCurve(self.groups, index), cable, plan["tracked"], by_power)
        return plan["tracked"] - min(cable.begin_w(pumpset.at(flow)["drive_in_w"]), plan["tracked"])
