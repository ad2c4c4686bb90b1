"""The battery on the bus: its content by origin, its marks, whether its island is shut down."""

import math


class Battery:
    """Content in W·s. At a mark `side` says whether the rule above (1), below (-1) or at it counts."""

    def __init__(self, spec):
        self.full = spec["capacity_kwh"] * 3.6e6
        self.least = spec["least_content"] * self.full
        self.reserve = spec["reserve"] * self.full
        self.grid_mark = spec["grid_charges_to"] * self.full
        self.restart = spec["restart"] * self.full
        self.charge_w, self.discharge_w = spec["charge_kw"] * 1e3, spec["discharge_kw"] * 1e3
        self.into, self.out_of = spec["charge_efficiency"], spec["discharge_efficiency"]
        self.gives_beside_grid = spec["rule"] == "self-consumption"
        if self.gives_beside_grid:
            self.grid_mark = min(self.grid_mark, self.reserve)
        self.marks = {self.full, self.least, self.reserve, self.grid_mark, self.restart}
        assert self.least < self.restart <= self.full and self.least <= self.reserve
        self.shut_down = False
        self.begin_year(self.full, self.full)

    def begin_year(self, content, of_array):
        """A shut-down island stays shut down from the end of the year to its start."""
        self.content, self.of_array = content, of_array

    def begin_span(self, grid, grid_before):
        if grid:
            self.shut_down = False
        elif grid_before and self.content <= self.least:
            self.shut_down = True

    def below(self, mark, side):
        return side < 0 if self.content == mark else self.content < mark

    def above(self, mark, side):
        return side > 0 if self.content == mark else self.content > mark

    def room_w(self, side):
        """Power with which the sun may charge, at the bus."""
        return self.charge_w if self.below(self.full, side) else 0.0

    def beside_grid_w(self, side):
        """Power that it may give while the grid is on."""
        if self.gives_beside_grid and self.above(self.reserve, side):
            return self.discharge_w
        return 0.0

    def charged_by_grid_to_w(self, side):
        """The charging power up to which the grid adds to the sun's."""
        return self.charge_w if self.below(self.grid_mark, side) else 0.0

    def seconds_to_mark(self, rate_w):
        if rate_w > 0.0:
            marks = [mark for mark in self.marks if mark > self.content]
            mark = min(marks, default=None)
        elif rate_w < 0.0:
            mark = max((mark for mark in self.marks if mark < self.content), default=None)
        else:
            mark = None
        return (math.inf, None) if mark is None else ((mark - self.content) / rate_w, mark)

    def go(self, seconds, of_array_w, of_grid_w, out_w, mark):
        """Advances time at constant rates; what leaves is drawn from both accounts in proportion."""
        begin = self.content
        inward_w = of_array_w + of_grid_w
        end = begin + (inward_w - out_w) * seconds if mark is None else mark
        if inward_w == 0.0:
            self.of_array *= end / begin if begin > 0.0 else 0.0
        elif out_w == 0.0:
            self.of_array += of_array_w * seconds
        else:
            self.of_array = end * self.mixed_share(seconds, of_array_w / inward_w, inward_w, out_w)
        self.content = end

    def mixed_share(self, seconds, share_in, inward_w, out_w):
        """The array's share of the content after charging and discharging in alternation, both at mean rates."""
        begin, rate_w = self.content, inward_w - out_w
        if abs(rate_w) * seconds < 1e-9 * begin:
            faded = math.exp(-inward_w * seconds / begin)
        else:
            faded = ((begin + rate_w * seconds) / begin) ** (-inward_w / rate_w)
        return share_in + (self.of_array / begin - share_in) * faded

    def settle(self, grid):
        """Whether the island is shut down after a mark was reached."""
        if grid:
            return
        if not self.shut_down and self.content <= self.least:
            self.shut_down = True
        elif self.shut_down and self.content >= self.restart:
            self.shut_down = False
