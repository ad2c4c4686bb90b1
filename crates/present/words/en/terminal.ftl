# Texts of the terminal only. Numbers are passed as text; a sentence includes their units.

## Units in words.

unit-days = days
unit-days-of-demand = days of demand
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
compare-sun = irradiation: { $flat } kWh/m² horizontal
    .plane = irradiation: { $flat } kWh/m² horizontal, { $plane } kWh/m² on the array

section-water = Water
section-money = Money
section-grid = Grid and loads
section-hours = Hours
section-rule = Rule of pumping

water-demand = demand
water-delivered = delivered
money-label = money
money-capital = capital
money-fuel = first year's fuel
money-upkeep = first year's upkeep
money-reference = today
money-npv = net present value
money-irr = internal rate of return
money-per-m3 = cost per m³
money-service = service
missing-water = { $m3 } m³ less water a year ({ $share }; { $month } m³ in the worst month)
missing-loads = { $kwh } kWh a year less load served
service-note = * { $row }, compared with { $today }: { $missing }. Its money figures are for less service.
pairs-title = What each arrangement without a star adds to every cheaper one
pairs-of = Arrangement
pairs-against = compared with
pairs-saving = saving
    .second = a year
grid-imported = imported
grid-exported = exported
grid-not-exported = not exported for the limit (AC)
pump-on = pump on { $source }
loads-on = loads on { $source }
loads-not-served = loads not served
battery-through = through the battery
battery-from-grid = grid to battery
hours-outage = outage
hours-pumping = pumping
hours-pumping-in-outages = pumping in outages
hours-generator = generator
fuel-of-generator = generator fuel
sun-available = available

## The rule of pumping on mains.

rule-of-row = rule of pumping: { $part }
rule-hours = hours
rule-fill = fills the tank to
rule-low = pumps at any hour below
rule-surplus = also when inverters offer
rule-given = from the plant file
rule-found = search found

## Differences between one arrangement and the others.

changes-head = What changes compared with { $row }
    .money = What changes compared with { $row } (the money table above compares with { $today })
changes-nothing = No significant change.

## Bars: parts of a whole, each with its preferred letter.

use-conversion = conversion and cables
    .letter = c
bars-delivered = delivered
    .letter = D
bars-short = short: { $cause }
bars-pump = pump
bars-rest = the rest

## The water of every month.

months-title = Water delivered by month, m³
    .short = Water delivered by month, m³; in brackets: shortfall
months-month = Month

## One arrangement's year.

run-head = { $plant }, { $row }: one year in steps of { $step } min
run-sun = irradiation: { $plane } kWh/m² on the array
run-shade-horizon = shading by the horizon: { $taken } kWh/m² ({ $share })
run-shade-rows = shading by neighbouring rows: { $taken } kWh/m² ({ $share })
run-title = The year
run-worst-shortage = { $amount } m³, { $days } days of demand
run-pumping = { $pumping } h, of which { $away } h in outages
run-utility-away = grid down
run-starts-title = motor starts
run-starts = { $motor } in the year, at most { $most } a day
    .sun = { $motor } on mains and { $sun } on the sun in the year, at most { $most } a day
run-power-ups = power-ups of the drive
run-cycles = changeover cycles
run-battery = { $discharged } kWh, { $share } of it from the array
run-generator = { $made } kWh in { $hours } h, { $fuel } l of fuel
run-sun-by-hour = Irradiance on the array, mean W/m² by month and hour of the day (07 means 7:00 to 8:00)
run-books = balances close: errors of { $energy } (energy), { $water } (water), { $hours } (hours) of the total flow

month-delivered = delivered
month-pumping = pumping
month-outage = outage
month-sun = sun
month-pump = pump
month-import = import
month-export = export
month-not-served = not served

## Strings: the weather of the checks, and the verdict.

strings-head = { $plant }: are the strings right for inverter and drive?
strings-coldest = coldest morning: { $air }
strings-noon = hot noon: { $sun } W/m², air { $air }, cells { $cells } °C
strings-module = one module: Voc { $cold } V on the coldest morning; Voc { $hot } V and Vmp { $best } V at a hot noon
strings-air = { $air } °C (from the weather year; no record given)
    .on-record = { $air } °C (record; { $weather } °C in the weather year)
    .of-weather = { $air } °C (from the weather year; { $record } °C is the given record)

finding-remedy = Fix: { $remedy }
finding-unconfirmed = Depends on unconfirmed values: { $values }

## Every rule with its value and limit.

measures-title = Values against limits
measures-device = device
measures-value = value
measures-limit = limit
measures-room = margin
measures-of = { $about } (of { $count })
measures-not-given = not given
measures-by-fuses = fuses needed
measures-beyond = −{ $distance } { $weight }

## A rule that a layout violates, in short.

short-cold-voltage-on-drive = { $value } on the coldest morning, { $beyond } above the maximum of { $about }
short-cold-voltage-on-inverter = { short-cold-voltage-on-drive }
short-cold-voltage-of-module = { $value } on the coldest morning, { $beyond } above the modules' maximum
short-mppt-floor = Vmp { $value } at a hot noon, { $beyond } below the MPPT window of { $about }
short-mppt-ceiling = Vmp { $value } in cold sun, { $beyond } above the MPPT window of { $about }
short-drive-start = Voc { $value } at a hot noon, { $beyond } too low to start { $about }
short-pump-speed = { $value } on { $about } at a hot noon, { $beyond } too slow
    .stopped = { $about } cannot run its pump at a hot noon
short-useful-speed = { $value } on { $about } at a hot noon, { $beyond } slower than useful
short-inputs = { $value } MPPT inputs needed, { $beyond } more than { $about } has
short-strings-on-input = { $value } strings on an input, { $beyond } more than fit on { $about }
short-short-circuit-on-input = 1.25 times the short-circuit current is { $value }, { $beyond } above the maximum of { $about }
short-short-circuit-on-drive = { short-short-circuit-on-input }
short-current-on-input = Imp { $value }, { $beyond } more than { $about } draws
short-current-on-drive = { short-current-on-input }
short-power-on-inverter = { $value } of modules, { $beyond } above the maximum of { $about }
short-power-on-drive = { short-power-on-inverter }
short-fuse-on-inverter = no fuse fits the strings on { $about }: { $value } would flow back through a faulty string
short-fuse-on-drive = { short-fuse-on-inverter }
the-device = the { $device }

## A sub-array: its modules, its string lengths, why other lengths are not suitable.

sub-modules =
    { $count ->
        [one] 1 module
       *[other] { $count } modules
    }
sub-modules-on = { $modules } on { $plane }
    .of = { $modules } on { $plane } of { $inverter }
lengths-title = Modules in series
lengths-range = { $least } to { $most }
lengths-suit = no string-length rule violated; suitable layouts of each length: { $layouts }
lengths-nearest = nearest, { $series }: { $why }
none-suits = No layout is suitable, and no single change would make one suitable. The nearest layout violates:
    .changes = No layout is suitable. Each of these changes alone would make one suitable:
refused-title = Rules violated by other layouts of these lengths, and by how many layouts
refused-nearest = nearest, { $series } in series: { $why }
    .strings =
        { $strings ->
            [one] nearest, { $series } in series, 1 string: { $why }
           *[other] nearest, { $series } in series, { $strings } strings: { $why }
        }

## Suitable layouts.

layouts-title = Suitable layouts: { $count }, ranked by a year of { $row } (steps of { $step } min), best first
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
layouts-free = at any V
layouts-sun = sun used
layouts-drive = drive
layouts-inverter = inverter
layouts-own = now in the plant file, number { $rank } of { $count }
layouts-legend-drive = drive: water that it could pump in outages if water were always wanted
layouts-legend-free = at any V: water if full flux needed no bus voltage, for the ten best layouts with a slow pump
layouts-legend-inverter = inverter: energy that it could feed in while the grid is on
layouts-warns = violates a rule that only warns; the yearly results include a slow pump, but not power that an input clips
layouts-not-checked = suitable as far as the limits are known; not checked: { $limits }
layouts-more = { $count } more are suitable; --all prints them
layouts-every-nth = numbers of strings on a drive were checked only in steps of { $nth }, plus none and all

## What `check` read from a plant.

check-no-faults = { $plant }: no faults
    .warnings =
        { $count ->
            [one] { $plant }: no faults, 1 warning
           *[other] { $plant }: no faults, { $count } warnings
        }
check-warnings = Warnings
check-strings = Strings
check-values = Values
    .not-confirmed =
        { $count ->
            [one] 1 value is not confirmed (default, assumed or generic)
           *[other] { $count } values are not confirmed (default, assumed or generic)
        }
    .confirm-first = Confirm these first
    .all = `daylift check { $plant } --values` lists every value with its unit, its origin, and the file and line that give it.
check-weather = weather
    .value = { $source }, { $days } days
check-array = array
    .one = { $kwp } kWp: { $group }
    .several = { $kwp } kWp in { $groups } groups
check-inverter = { $name }, { $power } kW
check-tank = tank
    .value = { $content } m³
check-arrangements = arrangements
    .value = { $rows }; today: { $today }; `compare` may add today's way under its best rule, and rows with the generator where service is less
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
check-pump = { $name }; curve fit within { $head } m of head and { $points } points of efficiency
    .through = { $name }; curves through the datasheet's points
check-misfit = worst misfit
    .inverter = efficiency { $inverter }
    .motor = head { $head } of the shut-off head, efficiency of the pump { $pump }, of the motor { $motor }
    .drive = { $motor }, of the drive { $drive }
check-duty = duty at rated speed
    .value = { $flow } m³/h at { $head } m, shaft { $shaft } kW, into the motor cable { $supply } kW, when the standing water level is lowest
check-array-to-pump = array to pump
    .value = { $ratio } kWp for each kW of the drive's DC input at { $hz } Hz ({ $dc } kW)
check-second-input = second input
    .below = the drive runs on the array or on mains; mains takes over below { $share }% of the wanted speed
    .cannot = the drive runs on the array or on mains; mains takes over when the array cannot run the pump
    .blend = mains of { $line } V supplies the drive together with the array; the rectifier holds the bus at { $bus } V
check-battery = battery
    .value = { $name }: { $content } kWh, { $usable } kWh usable, charges at { $charge } kW, discharges at { $discharge } kW; { $rule }
    .island = supplies the farm all year, without a grid
    .reserve-kept = discharges down to { $reserve } kWh while the grid is on
    .outages = discharges in outages only
check-restart = mains starters
    .value = closed by hand after an outage; attended hours: { $hours }
check-generator = generator
    .value = { $name }: { $power } kW, { $made } kWh per litre at full load; feeds { $loads }, { $pumps }; { $start }
    .loads-none = no loads
    .loads-backed-up = the backed-up loads
    .loads-all = all loads
    .pumps-low = pumps when the tank is low
    .pumps-wanted = pumps when water is wanted
    .any-hour = can run in any outage
    .attended = started by hand; attended hours: { $hours }
check-bigger-tank = bigger tank
    .value = { $content } m³, replaces the tank
check-weak-line = weak line
    .value = { $ohm } Ω; up to { $power } kW of export before the inverters disconnect
check-origins =
    .not-confirmed = Not confirmed on the farm
    .relied-on = Given or confirmed
    .value = value
    .origin = origin

## A working.

explain-source = Source: { $source }.
explain-mind = Caution: { $caution }.
