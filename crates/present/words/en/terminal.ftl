# Words that only the terminal says. Numbers come in as text, units among the words where a sentence holds them.

## Units in words.

unit-days = days
unit-years = years
counted-days =
    { $count ->
        [one] 1 day
       *[other] { $count } days
    }

## A comparison.

compare-head = { $rows ->
    [one] { $plant }: 1 arrangement through one year, steps of { $step } min
   *[other] { $plant }: { $rows } arrangements through one year, steps of { $step } min
}
weather = weather: { $source }
compare-sun = sun: { $flat } kWh/m² on the flat
    .plane = sun: { $flat } kWh/m² on the flat, { $plane } kWh/m² on the array's plane

section-water = Water
section-money = Money
section-grid = Grid and loads
section-hours = Hours

water-demand = demand
water-delivered = delivered
money-capital = capital
money-fuel = first year's fuel
money-reference = reference
money-npv = net present value
money-irr = internal rate of return
money-per-m3 = cost per m³
grid-imported = imported
grid-exported = exported
pump-on = pump on { $source }
loads-on = loads on { $source }
loads-not-served = loads not served
battery-through = through the battery
battery-from-grid = grid into the battery
hours-outage = outage
hours-pumping = pumping
hours-pumping-in-outages = pumping in outages
hours-generator = generating set
fuel-of-generator = its fuel
sun-available = available

## What changes from one row to the others.

changes-head = What changes against { $row }
    .money = What changes against { $row } (the money above stays against { $today })
changes-nothing = Nothing that counts.

## Bars: parts of a whole, each with the letter that it would like.

use-conversion = conversion and cables
    .letter = c
bars-delivered = delivered
    .letter = D
bars-short = short: { $cause }
bars-pump = pump
bars-rest = the rest

## The water of every month.

months-title = Water delivered by month, m³
    .short = Water delivered by month, m³; in brackets, short of the demand
months-month = Month

## One arrangement's year.

run-head = { $plant }, { $row }: one year in steps of { $step } min
run-sun = sun: { $plane } kWh/m² on the array's plane
run-shade-horizon = { $taken } kWh/m² ({ $share }) taken by the horizon
run-shade-rows = { $taken } kWh/m² ({ $share }) taken by neighbouring rows
run-title = The year
run-pumping = { $pumping } h, of them in outages { $away } h
run-utility-away = utility away
run-battery = { $discharged } kWh, { $share } of it from the array
run-generator = { $made } kWh in { $hours } h, { $fuel } l of fuel
run-sun-by-hour = Sun on the array's plane, mean W/m² by month and hour of the day (07: from 7:00 to 8:00)
run-books = books close to { $energy } (energy), { $water } (water), { $hours } (hours) of the flow

month-delivered = delivered
month-pumping = pumping
month-outage = outage
month-sun = sun
month-pump = pump
month-import = import
month-export = export
month-not-served = not served

## Strings: the weather that they are judged in, and the verdict.

strings-head = { $plant }: do the strings suit inverter and drive?
strings-coldest = coldest morning: { $air }
strings-noon = hot noon: { $sun } W/m², air { $air }, cells at { $cells } °C
strings-module = a module: { $cold } V open on the coldest morning; { $hot } V open and { $best } V at greatest power at a hot noon
strings-air = { $air } °C (the year's weather; no record given)
    .on-record = { $air } °C (on record; { $weather } °C in the year's weather)
    .of-weather = { $air } °C (the year's weather; { $record } °C on record)

finding-remedy = Remedy: { $remedy }
finding-unconfirmed = Rests on what is not confirmed: { $values }

## Every rule with its value and limit.

measures-title = Held against the rules
measures-device = device
measures-value = value
measures-limit = limit
measures-room = room
measures-of = { $about } (of { $count })
measures-not-given = not given
measures-by-fuses = by fuses
measures-beyond = −{ $distance } { $weight }

## A rule that a layout breaks, in short.

short-cold-voltage-on-drive = { $value } on the coldest morning, { $beyond } above what { $about } bears
short-cold-voltage-on-inverter = { short-cold-voltage-on-drive }
short-cold-voltage-of-module = { $value } on the coldest morning, { $beyond } above what the modules bear
short-mppt-floor = { $value } at a hot noon, { $beyond } below the MPPT window of { $about }
short-mppt-ceiling = { $value } in cold sun, { $beyond } above the MPPT window of { $about }
short-drive-start = { $value } open at a hot noon, { $beyond } too little to start { $about }
short-pump-speed = { $value } on { $about } at a hot noon, { $beyond } too slow
    .stands = { $about } stands at a hot noon
short-inputs = { $value } MPPT inputs, { $beyond } more than { $about } has
short-strings-on-input = { $value } strings on an input, { $beyond } more than fit on { $about }
short-short-circuit-on-input = 1.25 times the short-circuit current is { $value }, { $beyond } above what { $about } bears
short-short-circuit-on-drive = { short-short-circuit-on-input }
short-current-on-input = { $value } at greatest power, { $beyond } more than { $about } draws
short-current-on-drive = { short-current-on-input }
short-power-on-inverter = { $value } of modules, { $beyond } more than may be connected to { $about }
short-power-on-drive = { short-power-on-inverter }
short-fuse-on-inverter = no fuse size fits the strings on { $about }: { $value } flow back through one
short-fuse-on-drive = { short-fuse-on-inverter }
the-device = the { $device }

## A sub-array: its modules, the lengths of string, why others do not suit.

sub-modules =
    { $count ->
        [one] 1 module
       *[other] { $count } modules
    }
sub-modules-on = { $modules } on { $plane }
    .of = { $modules } on { $plane } of { $inverter }
lengths-title = Modules in series
lengths-range = { $least } to { $most }
lengths-suit = no rule of length forbids them; layouts that suit: { $layouts }
lengths-nearest = the nearest, { $series }: { $why }
none-suits = No layout suits, and no single change would let one. The nearest has against it:
    .changes = No layout suits. Each of these alone would let one suit:
refused-title = Other layouts of these lengths break
refused-nearest = the nearest, { $series } in series: { $why }
    .strings =
        { $strings ->
            [one] the nearest, { $series } in series, 1 string: { $why }
           *[other] the nearest, { $series } in series, { $strings } strings: { $why }
        }

## The layouts that suit.

layouts-title = Layouts that suit: { $count }, the best year of { $row } first (steps of { $step } min)
layouts-no-row = no arrangement
layouts-layout = Layout
layouts-series = in series
layouts-input = on an
    .second = input
layouts-on = on
layouts-drive-of-pump = drive
layouts-left = left
    .second = over
layouts-idle = idle
layouts-poles = poles
layouts-noon = hot noon
layouts-dc-over-ac = DC/AC
layouts-water = water
layouts-sun = sun used
layouts-drive = drive
layouts-inverter = inverter
layouts-own = what the plant file has, number { $rank } of { $count }
layouts-legend-drive = drive: what it could lift in the outages if water were always wanted
layouts-legend-inverter = inverter: what it could feed while the grid is there
layouts-warns = breaks a rule that only warns: its year does not count what that costs
layouts-not-checked = as far as the limits are known; not checked: { $limits }
layouts-more = { $count } more suit; --all prints them
layouts-every-nth = looked at: every { $nth }. number of strings on a drive, and all or none

## What was understood of a plant.

check-no-faults = { $plant }: no faults
    .warnings =
        { $count ->
            [one] { $plant }: no faults, 1 warning
           *[other] { $plant }: no faults, { $count } warnings
        }
check-warnings = Warnings
check-strings = Strings
check-values = Values
    .confirm-first = Confirm these first
    .all = `daylift check { $plant } --values` lists every value with its unit, its origin and its place.
check-weather = weather
    .value = { $source }, { $days } days
check-array = array
    .one = { $kwp } kWp: { $group }
    .several = { $kwp } kWp in { $groups } groups
check-inverter = { $name }, { $power } kW
check-tank = tank
    .value = { $content } m³
check-arrangements = arrangements
    .value = { $rows }; reference { $today }
check-outages = outages
    .none = no grid
    .value = { $count } in the year, { $hours } h, { $share } of the hours
    .of = { $source }: { $outages }
check-group =
    { $strings ->
        [one] 1 string of { $series } { $module }
       *[other] { $strings } strings of { $series } { $module }
    }
    .named = { $name } ({ $group }; on { $devices })
    .drive = the drive of { $set }
    .and = { $one } and { $other }
check-pump = { $name }; curve fitted within { $head } m of head and { $points } points of efficiency
check-duty = duty, rated speed
    .value = { $flow } m³/h at { $head } m, shaft { $shaft } kW, from the cable { $supply } kW, with the deepest standing water
check-array-to-pump = array to pump
    .value = { $ratio } kWp for each kW of the drive's DC input at { $hz } Hz ({ $dc } kW)
check-second-input = second input
    .below = the drive is on the sun or on mains; mains takes over below { $share }% of the wanted speed
    .cannot = the drive is on the sun or on mains; mains takes over when the sun cannot run the pump
    .blend = mains of { $line } V beside the sun; its rectifier holds the bus at { $bus } V
check-battery = battery
    .value = { $name }: { $content } kWh, { $usable } of them usable, { $charge } kW in and { $discharge } kW out; { $rule }
    .island = holds an island all year
    .reserve-kept = gives down to { $reserve } kWh while the grid is there
    .outages = gives in outages only
check-generator = generating set
    .value = { $name }: { $power } kW, { $made } kWh out of a litre at full load; feeds { $loads }, { $pumps }
    .loads-none = no loads
    .loads-backed-up = the backed-up loads
    .loads-all = all loads
    .pumps-low = pumps when the tank is low
    .pumps-wanted = pumps when water is wanted
check-bigger-tank = bigger tank
    .value = { $content } m³ in its place
check-weak-line = weak line
    .value = { $ohm } Ω; bears { $power } kW of export before the inverters leave
check-origins =
    .not-confirmed = Not confirmed on the farm
    .relied-on = Given or confirmed
    .value = value
    .origin = origin

## A working.

explain-source = Source: { $source }.
explain-mind = Mind: { $caution }.
