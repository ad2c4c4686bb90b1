# Words that terminal and page share. A value is what the page says; `.terminal` is what the terminal says where it
# uses other words for the same thing, `.letter` the letter that it would like in the terminal's bars. Numbers come in
# as text; a count comes in as a number beside it, for its plural.

## Arrangements: how array, grid and pump are wired, and what stands beside. The terminal prints their ids, which are
## typed on the command line.

arrangement-grid-only = Grid only
arrangement-solar-drive = Solar drive alone
arrangement-solar-drive-with-grid = Solar drive with grid
arrangement-grid-tied = Grid-tied alone
arrangement-dual-mode = Dual mode
arrangement-battery-hybrid = Battery hybrid

beside-generator = generator
beside-night-tank = bigger tank filled at night

## What becomes of the sun, the array's energy.

use-to_pump = Pump
    .terminal = to the pump
    .letter = P
use-to_loads = Farm
    .terminal = to the loads
    .letter = L
use-to_battery = Battery
    .terminal = to the battery
    .letter = B
use-exported_paid = Export, paid
    .terminal = exported, paid
    .letter = E
use-exported_unpaid = Export, unpaid
    .terminal = exported, unpaid
    .letter = U

## Why energy of the array was lost. `why-` stands after a colon.

loss-grid-down = grid away
    .terminal = grid-down
why-grid-down = with the grid away it has nowhere to go
loss-idle-strings = strings without a drive
    .terminal = idle-strings
why-idle-strings = these strings have no drive
loss-changeover = changing over
    .terminal = changeover
why-changeover = the switch is changing over
loss-waiting-to-reconnect = waiting to reconnect
    .terminal = waiting-to-reconnect
why-waiting-to-reconnect = the inverter waits before it feeds again
loss-grid-voltage-trip = line voltage at its limit
    .terminal = grid-voltage-trip
why-grid-voltage-trip = the line’s voltage is at its limit
loss-start-lockout = start lockout
    .terminal = start-lockout
why-start-lockout = the motor may not start again yet
loss-water-not-wanted = water not wanted
    .terminal = water-not-wanted
why-water-not-wanted = the tank wants no water
loss-well-limit = well limit
    .terminal = well-limit
why-well-limit = the well bears no more
loss-below-start = too little to start
    .terminal = below-start
why-below-start = too little to start with
loss-mppt-window = outside the MPPT window
    .terminal = mppt-window
why-mppt-window = the voltage lies outside the inverter’s window
loss-voltage-limited-speed = voltage-limited speed
    .terminal = voltage-limited-speed
why-voltage-limited-speed = the strings’ voltage allows no more speed
loss-held-off-by-grid = held off by mains
    .terminal = held-off-by-grid
why-held-off-by-grid = the mains hold the drive’s bus
loss-drive-limit = drive limit
    .terminal = drive-limit
why-drive-limit = the drive is at its rating
loss-pump-at-full-speed = pump at full speed
    .terminal = pump-at-full-speed
why-pump-at-full-speed = the pump runs as fast as wanted
loss-inverter-clipping = inverter clipping
    .terminal = inverter-clipping
why-inverter-clipping = the inverter is at its rating
loss-export-limit = export limit
    .terminal = export-limit
why-export-limit = nobody takes it and no more may leave
loss-battery-limit = battery limit
    .terminal = battery-limit
why-battery-limit = the battery takes no more
loss-inverter-conversion = inverter conversion
    .terminal = inverter-conversion
why-inverter-conversion = lost in the inverter
loss-drive-conversion = drive conversion
    .terminal = drive-conversion
why-drive-conversion = lost in the drive
loss-battery-conversion = battery conversion
    .terminal = battery-conversion
why-battery-conversion = lost in the battery
loss-cables = cables
    .terminal = cables
why-cables = lost in the cables

## What held the pump back while water was short.

shortfall-grid-down = grid-down
shortfall-changeover = changeover
shortfall-outside-hours = outside-hours
shortfall-too-little-sun = too-little-sun
shortfall-source-too-small = source-too-small
shortfall-voltage-limited-speed = voltage-limited-speed
shortfall-well-limit = well-limit
shortfall-pump-too-slow = pump-too-slow

## What runs the pump or serves the loads.

source-array = sun
    .terminal = array
    .letter = A
source-grid = grid
    .terminal = grid
    .letter = G
source-battery = battery
    .terminal = battery
    .letter = B
source-generator = generator
    .terminal = generator
    .letter = N

## The answers of an arrangement.

answer-water = Water secured
    .terminal = water secured
answer-water-in-outages = water secured in outages
answer-dry = Longest dry spell
    .terminal = longest dry spell
answer-sun = Sun used
    .terminal = share of the sun used
answer-bill = Bill and fuel a year
    .terminal = first year's bill
answer-payback = Paid back in
    .terminal = paid back in
answers-never = never
    .after = not in { $years }

flows-sun = Where the sun went
flows-pump = What the pump ran on
flows-water = Where the water went

## A row that delivers less water than today's way. `.little` is said of one that delivers less than half of it.

answers-not-same = less water than today: not the same service
    .terminal = delivers less water than { $today }: a part of its saving is water that was not pumped
    .little = { $row } delivers { $share } of that water: its payback, net present value and rate of return are not those of the same service
cash-less-water = { $row } (less water)

## What is found of strings: how much it weighs, and whether they can be built.

weight-forbids = Forbids
    .terminal = forbids
weight-warns = Warns
    .terminal = warns
weight-notes = Good to know
    .terminal = notes

verdict-good = Strings can be built.
    .terminal = The strings can be built: no rule forbids them{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }.
strings-nothing = No rule forbids them.

verdict-assumed = Strings not yet ready to build.
    .terminal = The strings are not yet ready to build: no rule forbids them{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }, but { $count ->
        [one] 1 value that this rests on is
       *[other] { $count } values that this rests on are
    } not confirmed: { $values }.
strings-rests = { $values ->
    [one] No rule forbids them, but 1 value that this rests on is not confirmed.
   *[other] No rule forbids them, but { $values } values that this rests on are not confirmed.
}

verdict-forbidden = Strings must not be built so.
    .terminal = The strings must not be built so: { $count ->
        [one] 1 finding forbids
       *[other] { $count } findings forbid
    } them{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }.
strings-forbids = { $things ->
    [one] 1 thing forbids them.
   *[other] { $things } things forbid them.
}
strings-warns = { $warnings ->
    [one] 1 warning.
   *[other] { $warnings } warnings.
}

## Where a value came from.

origin-default = by default
    .counted = { $count } by default
origin-generic = generic
    .counted = { $count } generic
origin-assumed = assumed
    .counted = { $count } assumed
origin-given = given
    .counted = { $count } values given
origin-datasheet = from the datasheet
    .counted = { $count } from datasheets
origin-found = found
    .counted = { $count } found
origin-confirmed = confirmed
    .counted = { $count } confirmed

## Cautions.

caution-estimates = Estimates from the inputs shown. PV strings are live whenever there is light; no plant may feed a dead grid; local codes, the utility and a licensed electrician come first.
    .terminal = Figures are estimates from the inputs shown; the sun by the year and its source, the pump by its ISO 9906 grade and the well by its test are uncertain by several per cent each. Local codes and licensed practice come first.
caution-strings = Judged: voltages, currents, fuses and speed of the strings, on the coldest morning and at the hottest noon. Not looked at: cables, breakers, surge protection, earthing, insulation monitoring, the changeover itself. PV strings are live whenever there is light. The local code and a licensed electrician come first.
    .live = PV strings are live whenever there is light, and DC arcs do not go out by themselves.
    .scope = What was judged: voltages, currents, fuses and speed of the strings. Cables, breakers, surge protection, earthing, insulation monitoring and the changeover itself are not looked at here.
    .codes = The local code and the makers' manuals come first; a licensed electrician designs, approves and builds it.
