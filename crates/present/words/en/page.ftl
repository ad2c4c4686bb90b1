### Texts of the page only, in English. Texts that the terminal uses too are in terms.ftl.
###
### The page fills in the $names of a text: quantities as text with their units, counts as numbers.

## The frame of the page

app-name = Daylift
app-skip = Skip to the main content
app-views = Views
app-all-plants = All plants
app-inputs = { $values ->
    [0] Inputs
   *[other] Inputs, { $values } not confirmed
}
app-undo = Undo
app-redo = Redo
app-saved = Saved in { $file }
app-unsaved = Not saved yet
app-not-saved = Not saved: fix the marked fields first
# $faults: faults at places that have no field on the page.
app-not-saved-because = Not saved: { $faults }
app-working = Calculating…
app-away = Daylift does not respond. Start it again with daylift desk; your changes are kept meanwhile.
app-changed = Another program has changed the plant’s files since this page read them.
app-take-files = Load the files
app-keep-mine = Overwrite with my changes
app-close = Close
app-numbers = Number format
app-flow-unit = Flow in

# The views, by their names in the address.
view-plant = The plant
view-ways = Compare arrangements

## Changes that an earlier visit left unsaved

unwritten-title = { $changes ->
    [one] One change was not saved when this page was closed:
   *[other] { $changes } changes were not saved when this page was closed:
}
unwritten-take-up = Restore
unwritten-drop = Discard

## The start: which plant

start-title = Which plant?
start-here = Plants in { $folder }
start-none = There is no plant in this folder yet. Start with an example.
start-unreadable = file cannot be read
start-examples = Start from a worked example
start-examples-note = The farms are invented. Daylift copies the example into this folder; its values count as assumed until you confirm them.
start-folder = Name of the new folder
start-begin = Start

## The main results

answers-title = Main results for { $row }
answers-in-outages = { $share } in outages
answers-no-outages = no outages
# $days: how many days of demand, $short: how many days are short, as `answers-short-days`.
answers-shortage-note = { $days } days of demand; { $short }
answers-short-days = { $days ->
    [0] no day is short of water
    [one] 1 day is short of water
   *[other] { $days } days are short of water
}
answers-sun-note = of the available energy
answers-no-array = no array
answers-before = { $money } today
answers-is-today = this is today’s way
answers-years = { $years } years
answers-capital = { $money } to build
answers-no-prices = no prices given
answers-no-shortage = Counted from the daily results: a day is short when more than 1 % of its water is missing. The worst shortage is the largest amount that is missing over a run of short days. Here no day is short.

sun-preliminary = Weather data is preliminary.
# $source: where the weather year comes from, as the program states it.
sun-from = Source: { $source }.

## Whether the strings can be built

strings-title = Can the strings be built?
strings-open = What was checked
strings-unconfirmed = Confirm on the farm or from the datasheet
strings-remedy = Fix:
strings-rule = Rule:

# What a rule depends on: keys of the files, or whole parts of the plant.
rests-site-record_low_c = coldest air temperature on record
rests-site-record_high_c = hottest air temperature on record
rests-module-system_voltage_v = maximum system voltage of the module
rests-module-greatest_fuse_a = maximum fuse rating of the module
rests-inverter-greatest_dc_v = maximum DC voltage of the inverter
rests-inverter-mppt_min_v = lower limit of the MPPT window
rests-inverter-mppt_max_v = upper limit of the MPPT window
rests-inverter-mppt_inputs = number of MPPT inputs of the inverter
rests-inverter-strings_per_input = number of strings that fit on an MPPT input
rests-inverter-input_current_a = maximum operating current of an MPPT input
rests-inverter-input_short_circuit_a = maximum short-circuit current of an MPPT input
rests-inverter-greatest_dc_power_kw = maximum PV power on the inverter
rests-drive-greatest_dc_v = maximum DC voltage of the drive
rests-drive-start_dc_v = DC voltage at which the drive starts
rests-drive-dc_current_a = maximum DC current of the drive
rests-drive-dc_short_circuit_a = maximum short-circuit current of the drive
rests-drive-greatest_dc_power_kw = maximum PV power on the drive
rests-array-strings_per_input = number of strings that share an MPPT input
rests-well-static_level_m = standing water level
rests-array-plane = planes of the array
rests-module = module
rests-array = array
rests-inverter = inverter
rests-drive = drive
rests-motor = motor
rests-pump = pump
rests-well = well
rests-pipe = pipes
rests-outlet = outlet
rests-strings = conditions of the string checks

## How a result is calculated

working-formula = Formula
working-symbol = Symbol
working-meaning = Meaning
working-value = Value
working-source = Source
working-caution = Caution

## The view of the plant

plant-row = Arrangement
plant-beside = Compare with
plant-nothing = nothing
plant-day = Day
plant-date = Another day
plant-switched = { $times ->
    [one] You switched the grid on or off once on this day.
   *[other] You switched the grid on or off { $times } times on this day.
}
plant-switch-back = Undo this
plant-touch = View and change
plant-try = Try it
plant-try-note = Results update as you drag.

# Days that the program chooses.
day-kind-clear = A clear day
day-kind-mean = An average day
day-kind-poor = A poor day

# Sections of the inputs.
section-array = Array
section-inverter = Inverter
section-drive = Drive
section-pump = Pump
section-motor = Motor
section-well = Well
section-pipe = Pipes
section-tank = Tank
section-demand = Water demand
section-grid = Grid
section-battery = Battery
section-generator = Generator
section-money = Money

# Values with a slider.
slider-array-strings = Strings
slider-array-tilt_deg = Tilt of the array
slider-drive-greatest_frequency_hz = Maximum pump frequency
slider-tank-capacity_m3 = Tank
slider-grid-export_credit_per_kwh = Credit for export
slider-grid-random-share_pct = Time with the grid down
slider-battery-capacity_kwh = Battery

## The inputs

inputs-title = Inputs of the plant
inputs-find = Find a value
inputs-nothing = No value matches.
inputs-only-not-confirmed = { $values ->
    [0] unconfirmed values only
   *[other] unconfirmed values only ({ $values })
}
inputs-allowed = { $least } to { $greatest }: { $reason }
inputs-to-default = Reset to default
inputs-list = { $values } values, separated by commas
inputs-one-or-months = one number for the year, or { $values } separated by commas, January first
inputs-one-or-hours = one number for the day, or { $values } separated by commas, from 0:00 on
inputs-windows = from and to, such as 22, 6; a second window after a semicolon: 22, 6; 10, 15
inputs-not-a-number = Enter a number.
inputs-not-numbers = Enter numbers separated by commas.
inputs-not-so-many = Enter { $values } numbers separated by commas.
inputs-not-one-or-months = Enter one number, or { $values } separated by commas.
inputs-not-windows = Enter two hours, or two windows of two hours each.
inputs-yes = yes
inputs-no = no
inputs-sheet = The whole file
inputs-bring = Upload a file
inputs-drop = or drop it here

## The comparison of arrangements

ways-most = { $best } secures the most water: { $share }
ways-all = All { $ways } arrangements serve the farm at least as well as today; of these { $cheapest } has the lowest bill
ways-some = { $served } of { $ways } arrangements serve the farm at least as well as today; of these { $cheapest } has the lowest bill
ways-sun = Where the sun went
ways-sun-note = All energy available from the array in the year, by what happened to it.
ways-row = Arrangement
ways-in-outages = In outages
ways-pumping = Hours pumping
ways-pumping-away = Pumping in outages
ways-bill = Bill and fuel, first year
ways-capital = Capital
ways-payback = Payback
ways-service = Service
ways-mark = * For less service than today’s: not comparable with the other arrangements.
ways-npv = Net present value, { $years } years
# $missing: which prices are missing, and what has no value for that reason.
ways-money = Money: { $missing }.
ways-look = Show this arrangement: { $row }
ways-today = today
ways-table = Show as a table
ways-kwh = kWh a year
ways-other-losses = other losses
ways-plant-warnings = Notes on all arrangements
ways-warnings = { $warnings ->
    [one] 1 note
   *[other] { $warnings } notes
}

## The rule by which pumps run on mains, and how today's way under its best rule differs from today

pumping-of-row = Rule of pumping: { $rule }.
# $hours: windows such as 22:00–6:00, or `pumping-all-hours`; $fill, $low: shares of the tank; $found: where the rule came from.
pumping-rule = { $hours }, fills to { $fill }, below { $low } at any hour ({ $found })
pumping-rule-surplus = { $hours }, fills to { $fill }, below { $low } at any hour, otherwise when inverters offer { $surplus } of the power ({ $found })
pumping-all-hours = all hours
pumping-as-written = as in the plant file
pumping-best = best rule found
pumping-wettest = no rule keeps today’s water; this one delivers most
# $parts: parts of the rule; $found: where the others came from.
pumping-beside = { $parts } from the plant file; { $found }
pumping-same = The best rule found is today’s own: nothing to change or build.
pumping-other = Today’s equipment with other timer and tank-level settings; nothing to build.

## Cash year by year

# $row, $lacks: an arrangement that serves less than today's way, and what it lacks.
cash-lesser = { $row } ({ $lacks }) is not comparable with today’s way *
cash-paid-back = With rising prices { $row } pays back in year { $year }
cash-at-once = { $row } costs no more than today’s way from the start
cash-never = { $row } does not pay back within { $years } years
cash-best = after { $years } years { $row } is furthest ahead of today’s way, by { $amount }
cash-itself = after { $years } years it is furthest ahead of today’s way, by { $amount }
cash-none = after { $years } years no other way is ahead of today’s
cash-note = Cumulative cash compared with today’s way ({ $today }). It includes replacements, rising prices and savings that shrink as the array ages, but no interest. The payback in the table above uses the prices of the first year.
cash-far = Off the chart; after { $years } years they are at
cash-today = Today’s way
cash-years = years
cash-thousands = thousand { $currency }
cash-table = Cash compared with today’s way in { $currency }, after each year
cash-built = at the start

## Faults

faults-title = { $values ->
    [one] 1 value is invalid
   *[other] { $values } values are invalid
}
faults-one = { $quantity }: { $given }; allowed: { $allowed }; { $remedy }
faults-one-short = { $quantity }: { $given }; { $remedy }
faults-at = { $file }, line { $line }
faults-old = The results below are from the last valid values.

## The picture of the plant

# Its parts.
thing-array = Array
thing-inverter = Inverter
thing-drive = Drive
thing-grid = Grid
thing-farm = Loads
thing-battery = Battery
thing-generator = Generator
thing-pump = Pump
thing-tank = Tank
thing-field = Field
thing-well = Well
thing-demand = Water demand

picture-title = The plant at { $clock }
picture-change = { $thing }: view and change
picture-pumps = { $pumps ->
    [one] Pump
   *[other] { $pumps } pumps
}
picture-of = { $part } of { $whole }
picture-unused = { $power } unused
picture-no-sun = no sun
picture-switching = switching
picture-stopped = stopped
picture-away = down
picture-idle = idle
picture-dark = no power
picture-takes = receives
picture-gives = supplies
picture-missing = { $power } missing
picture-standing = standing level { $depth }
picture-level = pumped level { $depth }
picture-depth = intake { $depth } deep
picture-tank = Tank
picture-tank-up = Tank, { $height } up
picture-tank-down = Tank, { $height } down
picture-pressure = { $pressure } at the inlet
picture-tank-holds = { $content }, { $share }
picture-restart = restart
picture-low = low
picture-wants = demand { $flow }
picture-no-water = no demand
picture-scale = line width: { $power }

## The same in sentences

moment-at = { $clock }.
moment-grid-there = The grid is on.
moment-grid-away = The grid is down.
moment-grid-gives = The grid is on and supplies { $power }.
moment-grid-takes = The grid is on; { $power } is exported.
moment-no-sun = There is no sun.
moment-array-feeds = The array feeds { $device }: { $used } of { $available }.
moment-array-feeds-all = The array feeds { $device }: { $used }.
moment-array-switching = The array is being switched over; { $available } is not used meanwhile.
moment-array-open = The array is connected to nothing; { $available } is not used.
moment-array-unused = The array could supply { $available }; none is used.
moment-array-unused-why = The array could supply { $available }; none is used: { $why }.
moment-rest = { $power } is not used: { $why }.
moment-inverter = the inverter
moment-drive = the drive
moment-both = drive and inverter
moment-battery-gives = The battery discharges at { $power } and holds { $content }.
moment-battery-takes = The battery charges at { $power } and holds { $content }.
moment-battery-rests = The battery is idle and holds { $content }.
moment-generator-gives = The generator supplies { $power }.
moment-pump-on-drive = { $pumps ->
    [one] The pump runs at { $speed } and pumps { $flow }.
   *[other] The { $pumps } pumps run at { $speed } and pump { $flow }.
}
moment-pump-on-bus = { $pumps ->
    [one] The pump runs on { $sources } and pumps { $flow }.
   *[other] The { $pumps } pumps run on { $sources } and pump { $flow }.
}
moment-pump-still = { $pumps ->
    [one] The pump does not run.
   *[other] The { $pumps } pumps do not run.
}
moment-flow-from = { $flow } from a depth of { $depth }
moment-tank-full = The tank is full.
moment-tank = The tank holds { $content } ({ $share } full){ $trend ->
        [rising] {""} and is rising
        [falling] {""} and is falling
       *[steady] {""}
    }{ $mark ->
        [low] , below its low mark
       *[above] {""}
    }.
moment-field-gets = The field gets { $flow }.
moment-field-gets-part = The field gets { $flow } of its demand of { $wanted }.
moment-field-dry = The field gets no water; its demand is { $wanted }.
moment-field-rests = The field needs no water.
moment-farm-served = The loads receive { $power }.
moment-farm-part = The loads receive { $power } of the { $wanted } that they need.
moment-farm-dark = The loads have no power; they need { $wanted }.

# Lists in a sentence: the last two items, and the items before.
list-last = { $before } and { $last }
list-more = { $before }, { $next }

## The day and its chart

day-away-and-still = On this day the grid is down for { $away }; for { $still } of that time the pump does not run
day-away-and-runs = On this day the grid is down for { $away }; the pump runs all that time
day-away-and-dark = On this day the grid is down for { $away }; the pump does not run in that time
day-runs = The pump runs { $runs } on this day
day-still = On this day the pump does not run for { $still }, and water is short
day-still-all = The pump does not run on this day
day-never-still = The pump runs all day
day-chart = Time of day
day-away = grid down
day-available = sun available
day-used = sun used
day-pump = pump
day-tank = tank
day-run = Run the day
day-pause = Pause
day-grid = Grid
day-there = on
day-gone = down
day-put-outage = Start an outage here
day-bring-back = End the outage here
day-kw = kW
day-switched-off = Grid switched off at { $clock }
day-switched-on = Grid switched on at { $clock }
day-value = { $clock }, grid { $grid }, sun { $sun }, pump { $pump }, tank { $tank }
