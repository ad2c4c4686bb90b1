# What the program says in its answers: on the terminal, in JSON, and on the page, which gets these as text.
# Numbers come in as text with their decimals; $today is the name of today's way.

## What the reader of a row must know.

notice-tank-disagrees = tank: its content at the end of the year ({ $end } m³) did not come to agree with that at the start ({ $start } m³)
notice-battery-disagrees = battery: its content at the end of the year ({ $end } kWh) did not come to agree with that at the start ({ $start } kWh)
notice-books-miss = books: the balances miss { $energy } (energy), { $water } (water), { $hours } (hours) of the flow; please report this plant
notice-strings = strings: { $about }: { $says }
    .forbids = strings: { $about }: { $says }; do not build these strings
notice-generator-idle = generator: it never runs in this row; what it costs buys nothing here
notice-generator-low-load = generator: it runs { $hours } h a year below its least load; a smaller set, or more to do for this one, would serve it better
notice-less-load = money: this row leaves { $darker } kWh of the farm's loads in the dark that { $today } serves; its money is not that of the same service
notice-less-water = money: this row delivers { $less } m³ less water a year than { $today }; a part of its lower bill is water that was not pumped
notice-little-water = money: this row delivers { $less } m³ less water a year than { $today }; its lower bill is mostly water that was not pumped, and its money is not that of the same service

## What changes from one row to another: how the plant works, and figures of which there is more or less.

works-grid-only = No array.
works-solar-drive = The pump runs from the sun alone; sun that it does not take is lost.
works-solar-drive-with-grid = The pump runs from the sun, and mains helps on its drive; sun that it does not take is lost.
works-grid-tied = Sun feeds pump, loads and export as long as the grid is there.
works-dual-mode = { works-grid-tied }
works-battery-hybrid = Sun and battery feed pump and loads, and export while the grid is there.

away-grid-only = Without the grid nothing runs.
    .generator = Without the grid a generating set runs the pump, and the loads that it is to feed.
away-solar-drive = Without the grid the pump goes on, the loads do not.
    .generator = Without the grid the pump goes on, and a generating set runs what the sun does not.
away-solar-drive-with-grid = { away-solar-drive }
    .generator = { away-solar-drive.generator }
away-grid-tied = Without the grid nothing runs, and the sun is lost.
    .generator = Without the grid the sun is lost, and a generating set runs the pump and what it is to feed.
away-dual-mode = Without the grid the array moves to the drive and runs the pump; the loads are dark.
    .generator = Without the grid the array moves to the drive and runs the pump; a generating set runs what the sun does not.
away-battery-hybrid = Without the grid pump and backed-up loads go on until the battery is empty.
    .generator = Without the grid pump and backed-up loads go on; a generating set takes over when the battery is empty.

works-bigger-tank = A bigger tank is filled at its own hours.
works-tank-stays = The tank stays as it is.

more = more
less = less

# No line is broken within a number or before its unit.
change-water = { $amount }{"\u00A0"}m³ { $how } water delivered a year
change-outage-pumping = { $amount }{"\u00A0"}h { $how } pumping in outages
change-dry-spell =
    { $days ->
        [one] { $amount }{"\u00A0"}day { $how } in the longest dry spell
       *[other] { $amount }{"\u00A0"}days { $how } in the longest dry spell
    }
change-unserved = { $amount }{"\u00A0"}kWh { $how } of load not served
change-capital = { $amount }{"\u00A0"}{ $currency } { $how } to build
change-yearly-cost = { $amount }{"\u00A0"}{ $currency } { $how } a year to run
change-imported = { $amount }{"\u00A0"}kWh { $how } taken from the grid
change-exported-paid = { $amount }{"\u00A0"}kWh { $how } exported at a credit
change-lost-in-outages = { $amount }{"\u00A0"}kWh { $how } of the sun lost while the grid is away
change-not-taken = { $amount }{"\u00A0"}kWh { $how } of the sun that nobody takes
change-through-battery = { $amount }{"\u00A0"}kWh { $how } through the battery
change-fuel = { $amount }{"\u00A0"}l { $how } of fuel

## Counts in a sentence.

counted-modules =
    { $count ->
        [one] one module
       *[other] { $count } modules
    }
counted-strings =
    { $count ->
        [one] one string
       *[other] { $count } strings
    }
counted-inputs =
    { $count ->
        [one] one MPPT input
       *[other] { $count } MPPT inputs
    }

## The rules for strings, and where they come from.

rule-cold-voltage-on-drive = open-circuit voltage on the coldest morning stays below what the device bears (IEC 62548; the maker's datasheet)
rule-cold-voltage-on-inverter = { rule-cold-voltage-on-drive }
rule-cold-voltage-of-module = open-circuit voltage on the coldest morning stays below the modules' system voltage (IEC 61730; the datasheet)
rule-mppt-floor = voltage of greatest power at a hot noon stays inside the inverter's MPPT window
rule-mppt-ceiling = voltage of greatest power in cold sun stays inside the inverter's MPPT window; above it some power is lost
rule-drive-start = open-circuit voltage at a hot noon starts the drive
rule-pump-speed = sun and strings give the pump a useful speed at a hot noon: the greatest frequency for which some voltage of the curve carries the pump's power
rule-strings-on-input = strings fit on an MPPT input
rule-inputs = MPPT inputs are enough; an input's strings go to one drive or to none, and inputs are never joined
rule-short-circuit-on-input = 1.25 times the strings' short-circuit current stays below what the input bears (IEC 62548, from memory; the datasheet)
rule-short-circuit-on-drive = { rule-short-circuit-on-input }
rule-current-on-input = strings' current at greatest power stays below what the input draws; more only clips
rule-current-on-drive = { rule-current-on-input }
rule-power-on-inverter = PV power stays below what the maker allows to be connected
rule-power-on-drive = { rule-power-on-inverter }
rule-fuse-on-inverter = where the other strings could drive more than the module's greatest fuse through one, each string has a fuse of 1.5 to 2.4 times its short-circuit current, at most that of the module (IEC 62548)
rule-fuse-on-drive = { rule-fuse-on-inverter }

## What a broken rule found. $modules and $strings are counted in words, $value, $limit and $beyond have their units.

broken-cold-voltage-on-drive = { $modules } in series reach { $value } at open circuit on the coldest morning; it bears { $limit }: { $beyond } too much
    .usual = { $modules } in series reach { $value } at open circuit on the coldest morning; `greatest_dc_v` is not given, and such a device usually bears { $limit }: { $beyond } too much
broken-cold-voltage-on-inverter = { broken-cold-voltage-on-drive }
broken-cold-voltage-of-module = { $modules } in series reach { $value } at open circuit on the coldest morning; they bear { $limit }: { $beyond } too much
broken-mppt-floor = { $modules } in series give their greatest power at { $value } at a hot noon; it tracks from { $limit }: { $beyond } too little
broken-mppt-ceiling = { $modules } in series give their greatest power at { $value } in cold sun; it tracks to { $limit }: { $beyond } too much, and some power is lost
broken-drive-start = { $modules } in series reach { $value } at open circuit at a hot noon; it starts from { $limit }: { $beyond } too little
broken-pump-speed = { $strings } of { $modules } bring the pump to { $value } at a hot noon; { $limit } is wanted: { $beyond } too little
    .stands = { $strings } of { $modules } cannot run the pump at a hot noon; { $limit } is wanted
    .no-strings = it gets no strings: the pump stands in an outage
broken-strings-on-input = { $strings } share an MPPT input that has room for { $limit }
broken-inputs = the strings take { $value } MPPT inputs; it has { $limit }
broken-short-circuit-on-input = 1.25 times the short-circuit current of { $strings } on an input is { $value }; it bears { $limit }: { $beyond } too much
broken-short-circuit-on-drive = 1.25 times the short-circuit current of { $strings } is { $value }; it bears { $limit }: { $beyond } too much
broken-current-on-input = { $strings } on an input give { $value } at greatest power; it draws { $limit } at most: up to { $beyond } are clipped
broken-current-on-drive = { $strings } give { $value } at greatest power; it draws { $limit } at most: up to { $beyond } are clipped
broken-power-on-inverter = { $value } of modules are on it; { $limit } may be connected: { $beyond } too much
broken-power-on-drive = { broken-power-on-inverter }
broken-fuse-on-inverter = if one of { $strings } is faulty, the others push { $value } back through it, and modules bear { $limit }; no fuse size fits: it would have to be above 1.5 times the short-circuit current
broken-fuse-on-drive = { broken-fuse-on-inverter }

## What would mend it. $count is of modules in series or of strings; $device is what a device would have to bear.

at-most-in-series = at most { $count } in series
    .none = no string of these modules fits
at-least-in-series = at least { $count } in series

mend-cold-voltage-on-drive = { $series }, or a drive that bears { $device } V
mend-cold-voltage-on-inverter = { $series }, or an inverter that bears { $device } V
mend-cold-voltage-of-module = { $series }, or modules for a higher system voltage
mend-mppt-floor = { $series }, or an inverter that tracks from { $device } V
mend-mppt-ceiling = { $series }, or an inverter that tracks to { $device } V
mend-drive-start = { $series }, or a drive that starts from { $device } V
mend-pump-speed = connect strings to this drive
    .voltage = the bus voltage is short: more modules in series, more strings on this drive, a drive with a boost stage, or a motor of lower voltage
    .power = the sun's power is short: more strings on this drive, or a smaller pump
    .nothing = the pump does not reach the lift at the frequency that is allowed: see the duty
mend-strings-on-input = at most { $count } strings on an input, on more inputs
mend-inputs = more strings on an input (`strings_per_input`), or an inverter with { $device } MPPT inputs
mend-short-circuit-on-input = at most { $count } strings on an input, or an inverter whose inputs bear { $device } A
mend-short-circuit-on-drive = at most { $count } strings on the drive, or a drive that bears { $device } A
mend-current-on-input = fewer strings on an input, or bear the loss: the year's energy does not count it
mend-current-on-drive = fewer strings on the drive, or bear the loss: the year's energy does not count it
mend-power-on-inverter = fewer modules on it, or a larger inverter
mend-power-on-drive = fewer strings on the drive, or a larger drive
mend-fuse-on-inverter = at most { $count } strings in parallel, or modules that bear a fuse above { $device } A
mend-fuse-on-drive = { mend-fuse-on-inverter }

## What is found beside broken rules.

not-given = not checked: `{ $key }` is not given; it would have to be { $value } or more
    .less = not checked: `{ $key }` is not given; it would have to be { $value } or less
    .window = `{ $key }` is not given; judged against { $limit }, the upper edge of its MPPT window
    .usual = `{ $key }` is not given; judged against { $limit }, what such drives usually bear
    .mend = copy `{ $key }` from the datasheet
found-record = the weather file is colder ({ $weather } °C) than what is given as the record ({ $record } °C), which cannot be right
    .hotter = the weather file is hotter ({ $weather } °C) than what is given as the record ({ $record } °C), which cannot be right
    .mend = ask the nearest weather service, and correct `record_low_c`
    .mend-hotter = ask the nearest weather service, and correct `record_high_c`
found-no-strings = no strings go to it: its pump stands while the grid is away
    .inverter = no strings go to it: it is not used
    .mend = give it strings, or leave it out
found-planes-apart = its strings lie on planes { $apart }° apart; no sun lights both alike, and its speed was judged as if one did
    .mend = judge its speed by the year (`daylift run`)
found-array-over-pump = it has { $kwp } kWp in an outage, { $ratio } times the { $pump } kW that the pump takes at its duty
found-poles =
    { $inputs ->
        [one] the strings of one MPPT input go to it in an outage: 2 poles are switched
       *[other] the strings of { $inputs } MPPT inputs go to it in an outage; plus and minus of each are cut off from the inverter, so that the inputs never meet there: { $poles } poles are switched
    }
found-string-fuses = if one of { $parallel } strings is faulty, the others push { $reverse } A back through it, and modules bear { $bears } A: a fuse of { $rating } A for { $volts } V DC or more in each string
found-held-bus = mains on its second input holds the bus at { $held } V; at a hot noon the strings give most at { $best } V, and less beside it
    .nothing = mains on its second input holds the bus at { $held } V; at a hot noon the strings reach { $open } V open and give nothing beside it
found-dc-over-ac = it has { $kwp } kWp, { $ratio } times its rated output, on { $inputs }
    .clips = it has { $kwp } kWp, { $ratio } times its rated output, on { $inputs }: most of the noon is clipped
found-idle-strings = { $kwp } kWp go to no drive and stand idle in an outage

## What would have to change for some layout to suit: this limit alone. $not is `, not 800.0 V`, where there is a limit.

change-limit = , not { $limit }
change-then = then strings of { $series } suit
mended-cold-voltage-on-drive = { $device }: one that bears { $value } DC{ $not }; { $then }
mended-cold-voltage-on-inverter = { mended-cold-voltage-on-drive }
mended-cold-voltage-of-module = modules for a system voltage of { $value }{ $not }; { $then }
mended-mppt-floor = { $device }: one that tracks from { $value }{ $not }; { $then }
mended-drive-start = { $device }: one that starts from { $value }{ $not }; { $then }
mended-pump-speed = { $device }: a pump that reaches the lift at the frequency that is allowed
    .voltage = { $device }: one with a boost stage, which makes the bus voltage that strings of { $series } lack (they bring the pump to { $value }{ $not }), or a motor of lower voltage
    .power = { $device }: a smaller pump or more modules; all strings of { $series } bring the pump to { $value }{ $not }
mended-strings-on-input = { $device }: one whose MPPT inputs have room for { $value } strings{ $not }; { $then }
mended-inputs = { $device }: one with { $value } MPPT inputs{ $not }; { $then }
mended-short-circuit-on-input = { $device }: one that bears a short-circuit current of { $value }{ $not }; { $then }
mended-short-circuit-on-drive = { mended-short-circuit-on-input }
mended-power-on-inverter = { $device }: one to which { $value } may be connected{ $not }; { $then }
mended-power-on-drive = { mended-power-on-inverter }
mended-fuse-on-inverter = modules that bear a greater fuse in series than { $amps } A; { $then }
mended-fuse-on-drive = { mended-fuse-on-inverter }
