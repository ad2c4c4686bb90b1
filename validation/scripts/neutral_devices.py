"""Values with which motor, drive, filter and inverter lose and limit nothing beyond their datasheets.

The plants that are older than these rules have them, so that their results stay comparable.
"""

PUMP = {
    "filter": "none",
    "filter_loss": 0.0,
    "filter_drop": 0.0,
    "harmonic_loss": 0.0,
    "least_flow": 0.0,
}
MOTOR = {
    "rated_current_a": None,
    "power_factor": 0.85,
    "cooling_flow_m3_h": 0.0,
    "submersible": True,
    "water_derating_per_k": 0.0,
}
DRIVE = {
    "rated_current_a": None,
    "power_factor": None,
    "least_flux": 1.0,
    "altitude_derating_per_100m": 0.0,
    "rated_altitude_m": 1000.0,
    "heat_derating_per_k": 0.0,
    "rated_temperature_c": 40.0,
    "cabinet_rise_k": 10.0,
    "tracking_static_loss": 0.0,
    "tracking_clear_loss": 0.0,
    "tracking_broken_loss": 0.0,
    "restart_power": 1.0,
    "restart_confirm_s": 0.0,
    "retry_wait_s": [0.0],
}
INVERTER = {
    "tracking_loss": 0.0,
    "tracking_broken_loss": 0.0,
    "heat_derating_per_k": 0.0,
    "derating_temperature_c": 45.0,
}
