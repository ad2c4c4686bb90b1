### Words that only the page shows, in English. What the terminal says too is in terms.ftl.
###
### $names in a text are filled in by the page: quantities as text with their units, counts as numbers.

## The frame of the page

app-name = Daylift
app-skip = Skip to the view
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
app-not-saved = Not saved: mend what is marked first
app-working = Reckoning …
app-away = The desk does not answer. Start it again with daylift desk; what you changed is kept until then.
app-changed = The plant’s files were changed by something else since this page read them.
app-take-files = Take what is in the files
app-keep-mine = Write my changes over it
app-close = Close
app-numbers = Numbers
app-flow-unit = Flow in

# The views, by their names in the address.
view-plant = The plant
view-ways = Ways to wire it

## Changes that an earlier visit left unwritten

unwritten-title = { $changes ->
    [one] One change was not written into the files when this page was closed:
   *[other] { $changes } changes were not written into the files when this page was closed:
}
unwritten-take-up = Take up
unwritten-drop = Drop

## The start: which plant

start-title = Which plant?
start-here = Plants in { $folder }
start-none = There is no plant in this folder yet. Start one from an example.
start-unreadable = its file cannot be read
start-examples = Start from a worked example
start-examples-note = Invented farms. A copy is made in this folder; its values count as assumed until you have confirmed them.
start-folder = Name of the new folder
start-begin = Start

## The five answers

answers-title = The five answers for { $row }
answers-in-outages = { $share } in outages
answers-no-outages = no outages
answers-days = { $days ->
    [one] 1 day
   *[other] { $days } days
}
answers-short-days = { $days ->
    [0] no day goes short
    [one] 1 day goes short
   *[other] { $days } days go short
}
answers-sun-note = of what the array can give
answers-no-array = no array
answers-before = { $money } today
answers-is-today = this is today’s way
answers-years = { $years } years
answers-capital = for { $money }
answers-no-working = Counted from the year day by day: a day is short when more than 1 % of its water is missing; the spell is the longest run of such days.

sun-preliminary = Sun preliminary.
# $source: where the year comes from, in the words of the program.
sun-from = A { $source }.

## Whether the strings can be built

strings-title = Can the strings be built?
strings-open = What was judged
strings-unconfirmed = To be confirmed on the farm or from the datasheet
strings-remedy = Remedy:
strings-rule = Rule:

# What a rule rests on: keys of the files, or whole parts of the plant.
rests-site-record_low_c = coldest air on record
rests-site-record_high_c = hottest air on record
rests-module-system_voltage_v = system voltage of the module
rests-module-greatest_fuse_a = greatest fuse of the module
rests-inverter-greatest_dc_v = greatest DC voltage of the inverter
rests-inverter-mppt_min_v = lower edge of the MPPT window
rests-inverter-mppt_max_v = upper edge of the MPPT window
rests-inverter-mppt_inputs = MPPT inputs of the inverter
rests-inverter-strings_per_input = strings that fit on an MPPT input
rests-inverter-input_current_a = greatest current of an MPPT input
rests-inverter-input_short_circuit_a = greatest short-circuit current of an MPPT input
rests-inverter-greatest_dc_power_kw = greatest PV power on the inverter
rests-drive-greatest_dc_v = greatest DC voltage of the drive
rests-drive-start_dc_v = DC voltage at which the drive starts
rests-drive-dc_current_a = greatest DC current of the drive
rests-drive-dc_short_circuit_a = greatest short-circuit current of the drive
rests-drive-greatest_dc_power_kw = greatest PV power on the drive
rests-array-strings_per_input = strings that share an MPPT input
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
rests-strings = conditions for strings

## How a figure comes about

working-formula = Formula
working-symbol = Symbol
working-meaning = Meaning
working-value = Value
working-source = Source
working-caution = To keep in mind

## The view of the plant

plant-row = Arrangement
plant-beside = Beside it
plant-nothing = nothing
plant-day = Day
plant-date = Another day
plant-switched = { $times ->
    [one] You have switched the grid once on this day.
   *[other] You have switched the grid { $times } times on this day.
}
plant-switch-back = Take it back
plant-touch = Look at and change
plant-try = Try it
plant-try-note = Everything is reckoned anew while you drag.

# Days that the program chooses.
day-kind-clear = A clear day
day-kind-mean = A mean day
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
section-demand = Water wanted
section-grid = Grid
section-battery = Battery
section-generator = Generator
section-money = Money

# Values with a slider.
slider-array-strings = Strings
slider-array-tilt_deg = Tilt of the array
slider-drive-greatest_frequency_hz = Fastest pump speed
slider-tank-capacity_m3 = Tank
slider-grid-export_credit_per_kwh = Credit for export
slider-grid-random-share_pct = Grid away
slider-battery-capacity_kwh = Battery

## The inputs

inputs-title = What the plant is made of
inputs-find = Find a value
inputs-nothing = No value is called that.
inputs-only-not-confirmed = { $values ->
    [0] only what is not confirmed
   *[other] only what is not confirmed ({ $values })
}
inputs-allowed = { $least } to { $greatest }: { $reason }
inputs-to-default = Back to the default
inputs-list = { $values } values, with commas between
inputs-one-or-months = one number for the year, or { $values } with commas between, January first
inputs-not-a-number = Give a number.
inputs-not-numbers = Give numbers with commas between.
inputs-not-so-many = Give { $values } numbers with commas between.
inputs-not-one-or-months = Give one number, or { $values } with commas between.
inputs-yes = yes
inputs-no = no
inputs-sheet = The whole file
inputs-bring = Bring a file
inputs-drop = or drop it here

## The ways to wire it

ways-most = { $best } secures the most water: { $share }
ways-all = All { $ways } ways secure all the water; of these { $cheapest } has the lowest bill
ways-some = { $full } of { $ways } ways secure all the water; of these { $cheapest } has the lowest bill
ways-sun = Where the sun went
ways-sun-note = Every kWh that the array can give in the year, by what became of it.
ways-row = Arrangement
ways-in-outages = In outages
ways-pumping = Hours pumping
ways-pumping-away = Pumping, grid away
ways-bill = Bill and fuel
ways-capital = Capital
ways-payback = Paid back
ways-npv = Net present value, { $years } years
ways-look = Show it: { $row }
ways-today = today
ways-table = The same as a table
ways-kwh = kWh a year
ways-other-losses = other losses
ways-warnings = { $warnings ->
    [one] 1 thing to know
   *[other] { $warnings } things to know
}

## Cash year by year

cash-paid-back = With rising prices { $row } is paid back in year { $year }
cash-at-once = { $row } costs no more than today’s way from the begin
cash-never = { $row } is not paid back within { $years } years
cash-best = after { $years } years { $row } is furthest ahead, by { $amount }
cash-itself = after { $years } years it is furthest ahead, by { $amount }
cash-none = after { $years } years no other way is ahead of today’s
cash-note = Cash beside today’s way ({ $today }), added up year by year with replacements and rising prices, without interest. The years in the table above reckon with the prices of the first year.
cash-far = Leave the picture at its foot; after { $years } years they stand at
cash-today = Today’s way
cash-years = years
cash-thousands = thousand { $currency }
cash-table = Cash beside today’s way in { $currency }, after each year
cash-built = when built

## Faults

faults-title = { $values ->
    [one] One value cannot be
   *[other] { $values } values cannot be
}
faults-one = { $quantity }: { $given }; allowed: { $allowed }; { $remedy }
faults-at = { $file }, line { $line }
faults-old = The figures below are those of the last plant that could be reckoned.

## The living picture

# Its parts.
thing-array = Array
thing-inverter = Inverter
thing-drive = Drive
thing-grid = Grid
thing-farm = Farm
thing-battery = Battery
thing-generator = Generator
thing-pump = Pump
thing-tank = Tank
thing-field = Field
thing-well = Well
thing-demand = Water wanted

picture-title = The plant at { $clock }
picture-change = { $thing }: look at and change
picture-pumps = { $pumps ->
    [one] Pump
   *[other] { $pumps } pumps
}
picture-of = { $part } of { $whole }
picture-unused = { $power } unused
picture-no-sun = no sun
picture-switching = switching
picture-stands = stands still
picture-away = away
picture-idle = rests
picture-dark = dark
picture-takes = takes
picture-gives = gives
picture-missing = { $power } missing
picture-standing = standing { $depth }
picture-level = level { $depth }
picture-depth = { $depth } deep
picture-tank = Tank
picture-tank-up = Tank, { $height } up
picture-tank-down = Tank, { $height } down
picture-tank-holds = { $content }, { $share }
picture-restart = restart
picture-low = low
picture-wants = wants { $flow }
picture-no-water = wants none
picture-scale = line width: { $power }

## The same in sentences

moment-at = { $clock }.
moment-grid-there = The grid is there.
moment-grid-away = The grid is away.
moment-grid-gives = The grid is there and gives { $power }.
moment-grid-takes = The grid is there and takes { $power }.
moment-no-sun = There is no sun.
moment-array-feeds = The array feeds { $device }: { $used } of { $available }.
moment-array-feeds-all = The array feeds { $device }: { $used }.
moment-array-switching = The array is being switched over; its { $available } wait.
moment-array-open = The array is switched to nothing; its { $available } go unused.
moment-array-unused = The array could give { $available }, all unused.
moment-array-unused-why = The array could give { $available }, all unused: { $why }.
moment-rest = { $power } go unused: { $why }.
moment-inverter = the inverter
moment-drive = the drive
moment-both = drive and inverter
moment-battery-gives = The battery gives { $power } and holds { $content }.
moment-battery-takes = The battery takes { $power } and holds { $content }.
moment-battery-rests = The battery rests and holds { $content }.
moment-generator-gives = The generator gives { $power }.
moment-pump-on-drive = { $pumps ->
    [one] The pump runs at { $speed } and lifts { $flow }.
   *[other] The { $pumps } pumps run at { $speed } and lift { $flow }.
}
moment-pump-on-bus = { $pumps ->
    [one] The pump runs on { $sources } and lifts { $flow }.
   *[other] The { $pumps } pumps run on { $sources } and lift { $flow }.
}
moment-pump-still = { $pumps ->
    [one] The pump stands still.
   *[other] The { $pumps } pumps stand still.
}
moment-flow-from = { $flow } from { $depth } down
moment-tank-full = The tank is full.
moment-tank = The tank holds { $content }, { $share } of it{ $trend ->
        [rising] {""} and rising
        [falling] {""} and falling
       *[steady] {""}
    }{ $mark ->
        [low] , below its low mark
       *[above] {""}
    }.
moment-field-gets = The field gets { $flow }.
moment-field-gets-part = The field gets { $flow } of the { $wanted } it wants.
moment-field-dry = The field wants { $wanted } and gets none.
moment-field-rests = The field wants no water.
moment-farm-served = The farm takes { $power }.
moment-farm-part = The farm gets { $power } of the { $wanted } it wants.
moment-farm-dark = The farm is dark: { $wanted } missing.

# Several in one sentence: the last two, and those before.
list-last = { $before } and { $last }
list-more = { $before }, { $next }

## The day and its chart

day-away-and-still = The grid is away { $away } this day; the pump stands still { $still } of it
day-away-and-runs = The grid is away { $away } this day and the pump runs all of it
day-away-and-dark = The grid is away { $away } this day and the pump stands still all of it
day-still = The pump stands still { $still } this day
day-still-all = The pump stands still all this day
day-never-still = The pump never stands still this day
day-chart = Time of day
day-away = grid away
day-available = sun there
day-used = sun used
day-pump = pump
day-tank = tank
day-run = Run the day
day-pause = Pause
day-grid = Grid
day-there = there
day-gone = away
day-put-outage = Put an outage here
day-bring-back = Bring the grid back here
day-kw = kW
day-switched-off = Grid taken away at { $clock }
day-switched-on = Grid brought back at { $clock }
day-value = { $clock }, grid { $grid }, sun { $sun }, pump { $pump }, tank { $tank }
