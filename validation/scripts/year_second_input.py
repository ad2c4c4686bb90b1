"""A drive with mains on its second input: power from array and mains while the input is on."""

import math

from scipy.optimize import brentq

from year_devices import joint_cable
from year_weather import JointCurve

HELD_OFF = "held-off-by-grid"
BEFORE_HELD_OFF = ("well-limit", "below-start", "voltage-limited-speed")


def held_off(sun, available_w):
    """A drive's outcome while something else runs its set; `sun` is its outcome on the sun alone."""
    lost = {cause: sun["lost"].get(cause, 0.0) for cause in BEFORE_HELD_OFF}
    lost[HELD_OFF] = max(available_w - sum(lost.values()), 0.0)
    return {"flow": 0.0, "motor_w": 0.0, "lost": lost, "beyond": 0.0}


class SecondInput:
    """`step` gives flow, powers and losses, W; None in an hour in which the input does nothing."""

    def __init__(self, spec, drive, outcomes):
        self.spec, self.drive, self.pumpset = spec, drive, drive.pumpset
        self.sun_alone = outcomes
        self.most_flow = min(self.pumpset.well_flow, self.pumpset.drive_flow)
        self.flows = {share: self.wanted_flow(share) for share in set(spec["wanted_speed"])}
        if spec["kind"] == "blend":
            self.held_v = 3.0 * math.sqrt(2.0) / math.pi * spec["line_voltage_v"]

    def wanted_flow(self, share):
        """Flow at f_h; None where f_h does not reach the start."""
        pumpset = self.pumpset
        hz = share * pumpset.greatest_hz
        if hz < pumpset.start["hz"]:
            return None
        return min(pumpset.flow_at(hz), self.most_flow)

    def step(self, index, hour):
        flow = self.flows[self.spec["wanted_speed"][hour]]
        if flow is None:
            return None
        if self.spec["kind"] == "switch":
            return self.switch(index, flow)
        return self.blend(index, flow)

    def switch(self, index, flow):
        sun = self.sun_alone[index]
        wanted = self.pumpset.at(flow)
        if sun["flow"] > 0.0:
            sun_hz = self.pumpset.hz(sun["flow"])
            if sun_hz >= self.spec["takes_over_below"] * wanted["hz"]:
                return sun | {"mains_w": 0.0, "mains_motor_w": 0.0}
        offers = [float(group["p_mp_w"][index]) for group in self.drive.groups]
        return held_off(sun, sum(offers)) | {
            "flow": flow,
            "mains_w": wanted["drive_in_w"],
            "mains_motor_w": wanted["motor_w"],
        }

    def at_held_voltage(self, curve, cable):
        """Array power with the drive's bus at the voltage that the rectifier holds."""
        if curve.open_v <= self.held_v:
            return 0.0

        def spare(volts):
            fraction = cable.fraction * curve.power_at_v(volts) / cable.rated_w
            return volts * (1.0 - fraction) - self.held_v

        volts = brentq(spare, self.held_v, curve.open_v, xtol=1e-11)
        return curve.power_at_v(volts)

    def blend(self, index, flow):
        drive, pumpset = self.drive, self.pumpset
        offers = [float(group["p_mp_w"][index]) for group in drive.groups]
        available = sum(offers)
        if available <= 0.0:
            return self.shared(flow, 0.0, 0.0, {})
        cable, curve = joint_cable(drive.groups, offers), JointCurve(drive.groups, index)
        held_w = best_w = self.at_held_voltage(curve, cable)
        if curve.least_v * (1.0 - cable.fraction * available / cable.rated_w) >= self.held_v:
            best_w = available
        left, lost = available, {}
        well_w = cable.begin_w(pumpset.well["drive_in_w"])
        if pumpset.well_flow < pumpset.full_flow and left > well_w:
            lost["well-limit"] = left - well_w
            left = well_w
        top_w = pumpset.at(self.most_flow)["drive_in_w"]
        if top_w <= cable.end_w(best_w):
            flow, taken = self.most_flow, min(cable.begin_w(top_w), left)
            cause = "drive-limit" if flow < pumpset.full_flow else "pump-at-full-speed"
            lost[cause] = left - taken
        elif pumpset.at(flow)["drive_in_w"] <= cable.end_w(best_w):
            flow = pumpset.flow_for_drive_in_w(cable.end_w(best_w), self.most_flow)
            taken = min(best_w, left)
            lost[HELD_OFF] = left - taken
        else:
            taken = min(held_w, left)
            lost[HELD_OFF] = left - taken
        return self.shared(flow, taken, cable.end_w(taken), lost)

    def shared(self, flow, taken_w, brought_w, lost):
        """Losses and motor power, shared in proportion to the power of array and mains at the drive."""
        point = self.pumpset.at(flow)
        asked_w = point["drive_in_w"]
        share = min(brought_w / asked_w, 1.0)
        mains_w = max(asked_w - brought_w, 0.0) if share < 1.0 else 0.0
        if mains_w < 1e-9 * asked_w:
            share, mains_w = 1.0, 0.0
        lost["drive-conversion"] = share * (asked_w - point["output_w"])
        motor_w = share * point["motor_w"]
        lost["cables"] = taken_w - brought_w + share * (point["output_w"] - point["motor_w"])
        return {
            "flow": flow,
            "motor_w": motor_w,
            "lost": lost,
            "beyond": 0.0,
            "mains_w": mains_w,
            "mains_motor_w": point["motor_w"] - motor_w,
        }
