"""Starting and stopping on the sun: the share of every step in which a set may run."""

LONG_RUN_S = 1800.0


class Starter:
    def __init__(self, drive, step_s):
        self.step_s = step_s
        self.confirm_s, self.waits_s = drive["restart_confirm_s"], drive["retry_wait_s"]
        self.running, self.ran_s = False, 0.0
        self.wait_s, self.needed_s, self.failures = 0.0, self.confirm_s, 0

    def stop(self):
        if self.ran_s >= LONG_RUN_S:
            self.failures = 0
        self.wait_s = self.waits_s[min(self.failures, len(self.waits_s) - 1)]
        self.failures += 1
        self.running, self.needed_s = False, self.confirm_s

    def step(self, has_power, can_run, ready):
        """Share of the step for which the set runs; it is always the end of the step."""
        if self.running and can_run:
            self.ran_s += self.step_s
            return 1.0
        if self.running:
            self.stop()
        if not has_power:
            self.failures, self.wait_s, self.needed_s = 0, 0.0, self.confirm_s
            return 0.0
        begins_s = self.wait_s + self.needed_s
        if ready and begins_s < self.step_s:
            self.running, self.ran_s = True, self.step_s - begins_s
            self.wait_s, self.needed_s = 0.0, self.confirm_s
            return 1.0 - begins_s / self.step_s
        confirmed_s = max(self.step_s - self.wait_s, 0.0)
        self.needed_s = self.needed_s - confirmed_s if ready else self.confirm_s
        self.wait_s = max(self.wait_s - self.step_s, 0.0)
        return 0.0


def of_share(free, share, available_w):
    """A step's outcome when the set stands at the beginning of the step, although it could run."""
    if share == 1.0 or free["flow"] == 0.0:
        return free
    lost = {cause: share * watts for cause, watts in free["lost"].items()}
    lost["start-lockout"] = (1.0 - share) * available_w
    parts = {key: share * free[key] for key in ("flow", "motor_w", "beyond", "runs", "reduced")}
    return free | parts | {"lost": lost}


def locked(drive_of, drive, free, available_w, step_s):
    """The outcomes of all steps with the lockout; `drive_of` gives the drive of a step."""
    starter, found = Starter(drive, step_s), []
    for index, outcome in enumerate(free):
        can_run = outcome["flow"] > 0.0
        ready = can_run and drive_of(index).is_ready(index, drive["restart_power"])
        share = starter.step(available_w[index] > 0.0, can_run, ready)
        found.append(of_share(outcome, share, available_w[index]))
    return found
