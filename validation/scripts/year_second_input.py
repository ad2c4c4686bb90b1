"""A drive with mains on its second input: power from array and mains while the input is on."""

import math

from scipy.optimize import brentq

from year_curve import JointCurve
from year_devices import joint_cable
from year_drive import IDLE

HELD_OFF = "held-off-by-grid"
BEFORE_HELD_OFF = ("tracking", "well-limit", "below-start", "voltage-limited-speed")


def held_off(sun, available_w):
    """A drive's outcome while something else runs its set; `sun` is its outcome on the sun alone."""
    lost = {cause: sun["lost"].get(cause, 0.0) for cause in BEFORE_HELD_OFF}
    lost[HELD_OFF] = max(available_w - sum(lost.values()), 0.0)
    return IDLE | {"lost": lost}


class SecondInput:
    """`step` gives flow, powers and losses, W; None in an hour in which the input does nothing.

    `outcomes` are those of the sun alone, without the rules of starting and stopping.
    """

    def __init__(self, spec, drive, outcomes):
        self.spec, self.drive, self.pumpset = spec, drive, drive.pumpset
        self.sun_alone = outcomes
        switches = spec["kind"] == "switch"
        line_v = self.pumpset.motor.rated_voltage_v if switches else spec["line_voltage_v"]
        # the voltage at which the rectifier holds the bus
        self.held_v = 3.0 * math.sqrt(2.0) / math.pi * line_v
        self.top_flow = min(self.pumpset.well_flow, self.flow_of_flux())
        self.flows = {share: self.wanted_flow(share) for share in set(spec["wanted_speed"])}

    def flux_at(self, hz):
        return min(1.0, self.held_v / float(self.pumpset.need_v(hz)))

    def flow_of_flux(self):
        """Flow at which the held voltage gives no more than the least flux."""
        pumpset = self.pumpset
        if self.flux_at(pumpset.greatest_hz) >= pumpset.least_flux:
            return pumpset.full_flow
        hz = self.held_v / (pumpset.need_v_per_hz * pumpset.least_flux)
        return pumpset.flow_at(hz) if hz > pumpset.hz(0.0) else 0.0

    def at(self, flow):
        """The point of a flow with the flux that the held voltage gives."""
        return self.pumpset.at(flow, self.flux_at(self.pumpset.hz(flow)))

    def wanted_flow(self, share):
        """Flow at a share of the wanted frequency; 0 where it does not reach the start."""
        pumpset = self.pumpset
        hz = share * pumpset.greatest_hz
        return 0.0 if hz < pumpset.start["hz"] else pumpset.flow_at(hz)

    def step(self, index, hour):
        top_flow = min(self.top_flow, self.drive.most_flow(index))
        flow = min(self.flows[self.spec["wanted_speed"][hour]], top_flow)
        if flow < self.pumpset.start_flow or flow == 0.0:
            return None
        if self.spec["kind"] == "switch":
            return self.switch(index, flow)
        return self.blend(index, flow, top_flow)

    def switch(self, index, flow):
        sun = self.sun_alone[index]
        wanted = self.at(flow)
        if sun["flow"] > 0.0:
            sun_hz = self.pumpset.hz(sun["flow"])
            if sun_hz >= self.spec["takes_over_below"] * wanted["hz"]:
                return sun | {"mains_w": 0.0, "mains_motor_w": 0.0}
        return held_off(sun, sum(self.drive.offers(index))) | {
            "flow": flow,
            "runs": 1.0,
            "reduced": float(self.flux_at(wanted["hz"]) < 1.0),
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

    def blend(self, index, flow, top_flow):
        drive, pumpset = self.drive, self.pumpset
        offers = drive.offers(index)
        available = sum(offers)
        if available <= 0.0:
            return self.shared(flow, 0.0, 0.0, {})
        cable, curve = joint_cable(drive.groups, offers), JointCurve(drive.groups, index)
        left, lost = (1.0 - float(drive.tracking[index])) * available, {}
        if left < available:
            lost["tracking"] = available - left
        # held power is cut by tracking only where it is above what tracking leaves
        held_w = best_w = min(self.at_held_voltage(curve, cable), left)
        if curve.least_v * (1.0 - cable.fraction * available / cable.rated_w) >= self.held_v:
            best_w = left
        well_w = cable.begin_w(self.at(pumpset.well_flow)["drive_in_w"])
        if pumpset.well_flow < pumpset.full_flow and left > well_w:
            lost["well-limit"] = left - well_w
            left = well_w
        top_w = self.at(top_flow)["drive_in_w"]
        if top_w <= cable.end_w(best_w):
            flow, taken = top_flow, min(cable.begin_w(top_w), left)
            self.beyond_top(lost, cable, left, taken, drive.most_flow(index))
        elif self.at(flow)["drive_in_w"] <= cable.end_w(best_w):
            flow = pumpset.flow_for_drive_in_w(cable.end_w(best_w), top_flow, self.flux_at)
            taken = min(best_w, left)
            lost[HELD_OFF] = left - taken
        else:
            taken = min(held_w, left)
            lost[HELD_OFF] = left - taken
        return self.shared(flow, taken, cable.end_w(taken), lost)

    def beyond_top(self, lost, cable, left, taken, drive_flow):
        """Books what the sun alone leaves at the top: first down to the drive's limit, then the rest."""
        if drive_flow < self.pumpset.full_flow:
            drive_w = cable.begin_w(self.at(drive_flow)["drive_in_w"])
            lost["drive-limit"] = max(left - max(drive_w, taken), 0.0)
            left -= lost["drive-limit"]
        lost["pump-at-full-speed"] = left - taken

    def shared(self, flow, taken_w, brought_w, lost):
        """Losses and motor power, shared in proportion to the power of array and mains at the drive."""
        point = self.at(flow)
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
            "runs": 1.0,
            "reduced": float(self.flux_at(point["hz"]) < 1.0),
            "mains_w": mains_w,
            "mains_motor_w": point["motor_w"] - motor_w,
        }
