# Words that terminal and page share. A value is the page's text; `.terminal` is the terminal's text where it differs;
# `.letter` is the preferred letter in the terminal's bars. Numbers are passed as text; counts are passed as numbers, so
# that the plural can be chosen.

## Arrangements: how array, grid and pump are wired, and what is added. The terminal prints their ids, because those
## are typed on the command line.

arrangement-grid-only = Grid only
arrangement-solar-drive = Solar drive alone
arrangement-solar-drive-with-grid = Solar drive with grid
arrangement-grid-tied = Grid-tied alone
arrangement-dual-mode = Dual mode
arrangement-battery-hybrid = Battery hybrid

beside-generator = generator
under-best-rule = { $row }, best pumping rule
beside-night-tank = bigger tank filled at night

## Uses of the array's energy.

use-to_pump = Pump
    .terminal = to the pump
    .letter = P
use-to_loads = Loads
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

## Why the array's energy was lost. `why-` follows a colon.

loss-grid-down = grid down
    .terminal = grid-down
why-grid-down = the grid is down, so the array's energy has no use
loss-idle-strings = strings without a drive
    .terminal = idle-strings
why-idle-strings = these strings have no drive
loss-changeover = changeover
    .terminal = changeover
why-changeover = the changeover is in progress
loss-waiting-to-reconnect = waiting to reconnect
    .terminal = waiting-to-reconnect
why-waiting-to-reconnect = the inverter waits before it feeds in again
loss-grid-voltage-trip = line voltage at its limit
    .terminal = grid-voltage-trip
why-grid-voltage-trip = the line voltage is at its limit
loss-start-lockout = start lockout
    .terminal = start-lockout
why-start-lockout = the sun could run the pump, which waits before it starts
loss-water-not-wanted = water not wanted
    .terminal = water-not-wanted
why-water-not-wanted = no water is wanted
loss-tracking = tracking
    .terminal = tracking
why-tracking = the drive or inverter misses a part of the maximum power while the sun changes
loss-well-limit = well limit
    .terminal = well-limit
why-well-limit = the well yields no more
loss-below-start = too little sun to start
    .terminal = below-start
why-below-start = too little sun to start
loss-mppt-window = outside the MPPT window
    .terminal = mppt-window
why-mppt-window = the voltage is outside the inverter’s MPPT window
loss-voltage-limited-speed = speed limited by voltage
    .terminal = voltage-limited-speed
why-voltage-limited-speed = the string voltage does not allow a higher speed
loss-held-off-by-grid = bus held by mains
    .terminal = held-off-by-grid
why-held-off-by-grid = mains holds the drive’s bus voltage, or mains or the generator runs the pump instead
loss-drive-limit = drive limit
    .terminal = drive-limit
why-drive-limit = the drive is at its rated power
loss-pump-at-full-speed = pump at full speed
    .terminal = pump-at-full-speed
why-pump-at-full-speed = the pump runs at full speed
loss-inverter-clipping = inverter clipping
    .terminal = inverter-clipping
why-inverter-clipping = the inverter is at its rated power
loss-export-limit = export limit
    .terminal = export-limit
why-export-limit = no load takes it and no more may be exported
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
shortfall-waiting-for-restart = waiting-for-restart
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

## The main results of an arrangement.

answer-water = Water secured
    .terminal = water secured
answer-water-in-outages = water secured in outages
answer-shortage = Worst shortage
    .terminal = worst shortage
shortage-short-days = short days
shortage-dry-spell = longest dry spell
answer-sun = Sun used
    .terminal = sun used
answer-bill = Bill and fuel, first year
    .terminal = first year's bill
answer-payback = Payback
    .terminal = payback
answers-never = never
    .after = not in { $years }

flows-sun = Where the sun went
flows-pump = What the pump ran on
flows-water = Where the water went

## Service: what an arrangement delivers compared with today's way. A money figure for less service is marked with *.

service-as-today = as today
service-less-water = { $share } less water
service-more-water = { $share } more water
service-less-loads = { $kwh } kWh less load served
service-more-loads = { $kwh } kWh more load served
service-priced = priced

service-less-in-month = { $m3 } m³ less water in the worst month

priced-at = Missing water and unserved load are priced at { $values }: payback, net present value and rate of return include this; bill and cost per m³ do not.
priced-at-all = Missing water and unserved load are priced at { $values }: payback, net present value and rate of return include this, so all arrangements are comparable; bill and cost per m³ do not include it.
priced-water = { $value } { $currency } per m³ of water
priced-load = { $value } { $currency } per kWh of load

## What the best arrangement adds to its runner-up, or one arrangement to a cheaper one.

runner-up = { $of } costs { $capital } more than { $against } and saves { $saving } more a year: the difference pays back in { $years } years.
runner-up-never = { $of } costs { $capital } more than { $against } and saves no more in the first year.
runner-up-free = { $of } costs no more than { $against } and saves { $saving } more a year.
runner-up-cheaper = { $of } costs { $capital } less than { $against } and { $cost } more a year to run.
runner-up-rule = { $of } saves { $saving } a year without new equipment, and no arrangement with new equipment has a higher net present value.
worth-most = Of the arrangements without a star, { $row } has the highest net present value.
worth-most-capital = Its capital is { $capital }, and compared with today's way it pays back in { $years } years.
ways-none-pays = Of the arrangements without a star, none has a higher net present value than { $today }.

## Parts of the rule of pumping on mains.

rule-part-mains_hours = hours
rule-part-mains_fill_pct = fill
rule-part-low_mark_pct = low level
rule-part-surplus_pct = surplus

## Findings on strings: their severity, and whether the strings can be built.

weight-forbids = Rule violation
    .terminal = violation
weight-warns = Warning
    .terminal = warning
weight-notes = Note
    .terminal = note

verdict-good = The strings can be built.
    .terminal = The strings can be built: no rule violated{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }.
strings-nothing = No rule violated.

verdict-assumed = The strings are not ready to build yet.
    .terminal = The strings are not ready to build yet: no rule violated{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }, but { $count ->
        [one] 1 value that this depends on is
       *[other] { $count } values that this depends on are
    } not confirmed: { $values }.
    .in-short = The strings are not ready to build yet: no rule violated, but { $count ->
        [one] 1 value that this depends on is
       *[other] { $count } values that this depends on are
    } not confirmed (see `daylift strings { $plant }`)
strings-rests = { $values ->
    [one] No rule violated, but 1 value that this depends on is not confirmed.
   *[other] No rule violated, but { $values } values that this depends on are not confirmed.
}

verdict-forbidden = Do not build these strings.
    .terminal = Do not build these strings: { $count ->
        [one] 1 rule violation
       *[other] { $count } rule violations
    }{ $warns ->
        [0] {""}
        [one] ; 1 warning
       *[other] ; { $warns } warnings
    }.
    .in-short = Do not build these strings: { $count ->
        [one] 1 rule violation
       *[other] { $count } rule violations
    } (see `daylift strings { $plant }`)
strings-forbids = { $things ->
    [one] 1 rule violation.
   *[other] { $things } rule violations.
}
strings-warns = { $warnings ->
    [one] 1 warning.
   *[other] { $warnings } warnings.
}

## Where a value came from.

origin-default = default
    .counted = { $count } defaults
origin-generic = generic
    .counted = { $count } generic
origin-assumed = assumed
    .counted = { $count } assumed
origin-given = given
    .counted = { $count } values given
origin-datasheet = from datasheet
    .counted = { $count } from datasheets
origin-found = calculated
    .counted = { $count } calculated
origin-confirmed = confirmed
    .counted = { $count } confirmed

## Cautions.

caution-estimates = These figures are estimates from the inputs shown. PV strings are live whenever there is light; no plant may feed a grid that is down. Follow local codes, the utility’s rules and the advice of a licensed electrician.
    .terminal = Figures are estimates from the inputs shown. Each of these is uncertain by several per cent: solar irradiation (year and source), the pump (its ISO 9906 grade) and the well (its test). Follow local codes and the advice of licensed professionals.
caution-strings = Checked: voltages, currents, fuses and pump speed for these strings, on the coldest morning and at the hottest noon. Not checked: cables, breakers, surge protection, earthing, insulation monitoring, the changeover switch. PV strings are live whenever there is light. Follow the local code; a licensed electrician must approve the design.
    .live = PV strings are live whenever there is light, and DC arcs do not go out by themselves.
    .scope = Checked: voltages, currents, fuses and pump speed for these strings. Not checked: cables, breakers, surge protection, earthing, insulation monitoring, the changeover switch.
    .codes = Follow the local code and the manufacturers' manuals. A licensed electrician must design, approve and build the installation.
