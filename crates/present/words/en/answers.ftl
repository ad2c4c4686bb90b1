# Texts of the answers: on the terminal, in JSON, and on the page, which gets these as text.
# Numbers are passed as text with their decimals; $today is the name of today's arrangement.

## Notices on an arrangement.

notice-tank-disagrees = tank: its content at the end of the year ({ $end } m³) does not match that at the start ({ $start } m³)
notice-battery-disagrees = battery: its content at the end of the year ({ $end } kWh) does not match that at the start ({ $start } kWh)
notice-books-miss = balances do not close: errors of { $energy } (energy), { $water } (water), { $hours } (hours) of the total flow; please report this plant
notice-strings = strings: { $about }: { $says }
    .forbids = strings: { $about }: { $says }; do not build these strings
notice-generator-idle = generator: it never runs in this arrangement; it only adds cost here
notice-generator-low-load = generator: it runs { $hours } h a year below its minimum load (`least_load_pct`); at such low load a diesel engine builds up soot and unburnt fuel (wet stacking); a smaller generator, or more load on this one, avoids it
    .rows = generator: hours a year below its minimum load (`least_load_pct`): { $rows }; at such low load a diesel engine builds up soot and unburnt fuel (wet stacking); a smaller generator, or more load on this one, avoids it
    .row = { $hours } h in { $row }
part-motor = motor
    .of = motor of { $set }
part-drive = drive
    .of = drive of { $set }
notice-motor-starts = { $part }: it starts up to { $most } times in a day, and { $allowed } are allowed; a bigger tank or a lower restart level means fewer starts
notice-motor-starts-close = { $part }: it starts again after { $gap } min, and at least { $allowed } min are allowed; a bigger tank or a lower restart level means longer rests, and a restart delay keeps starts after outages apart
notice-power-ups = { $part }: it is powered up to { $most } times in a day, and { $allowed } are allowed
notice-changeover-cycles = changeover: { $cycles } cycles in { $years } years, and its contacts are rated for { $rated }; plan for new contacts, or choose a changeover with a longer life
notice-pays-by-value = money: it pays only because of the value given to missing water and unserved load
notice-every-row-pays = money: with the value given to missing water and unserved load every arrangement pays, and some pay only because of it: check `value_of_lost_water_per_m3` and `value_of_lost_load_per_kwh`

## Prices that the plant file does not give. The text follows the heading "Money".

prices-none = no prices given; add [money], and [tariff] if the farm has a grid
    .costs = no [tariff] given, so there is no bill, no net present value and no payback
    .bill = no [money] given, so there is no capital, no net present value and no payback

## Differences between two arrangements: how the plant works, and which figures are higher or lower.

works-grid-only = No array.
works-solar-drive = The pump runs from the array only; array energy that the pump does not take is lost.
works-solar-drive-with-grid = The pump runs from the array, with mains on the drive's second input; array energy that the pump does not take is lost.
works-grid-tied = The array feeds pump, loads and export while the grid is on.
works-dual-mode = { works-grid-tied }
works-battery-hybrid = Array and battery feed pump and loads; the array also feeds export while the grid is on.

away-grid-only = In an outage nothing runs.
    .generator = In an outage a generator runs the pump and the loads assigned to it.
away-solar-drive = In an outage the pump can run; the loads have no power.
    .generator = In an outage the pump can run from the array; a generator supplies what the array does not.
away-solar-drive-with-grid = { away-solar-drive }
    .generator = { away-solar-drive.generator }
away-grid-tied = In an outage nothing runs, and the array's energy is lost.
    .generator = In an outage the array's energy is lost; a generator runs the pump and the loads assigned to it.
away-dual-mode = In an outage the array switches to the drive and runs the pump; the loads have no power.
    .generator = In an outage the array switches to the drive and runs the pump; a generator supplies what the array does not.
away-battery-hybrid = In an outage pump and backed-up loads keep running until the battery is empty.
    .generator = In an outage pump and backed-up loads keep running; a generator takes over when the battery is empty.

works-bigger-tank = A bigger tank is filled at its own hours.
works-tank-stays = The tank stays the same.

more = more
less = less

# No line is broken within a number or before its unit.
change-water = { $amount }{"\u00A0"}m³ { $how } water delivered a year
change-outage-pumping = { $amount }{"\u00A0"}h { $how } pumping in outages
change-worst-shortage = { $amount }{"\u00A0"}m³ { $how } missing in the worst shortage
change-unserved = { $amount }{"\u00A0"}kWh { $how } load not served
change-capital = { $amount }{"\u00A0"}{ $currency } { $how } to build
change-yearly-cost = { $amount }{"\u00A0"}{ $currency } { $how } a year to run
change-imported = { $amount }{"\u00A0"}kWh { $how } imported from the grid
change-exported-paid = { $amount }{"\u00A0"}kWh { $how } exported for credit
change-lost-in-outages = { $amount }{"\u00A0"}kWh { $how } array energy lost in outages
change-not-taken = { $amount }{"\u00A0"}kWh { $how } unused array energy
change-through-battery = { $amount }{"\u00A0"}kWh { $how } through the battery
change-fuel = { $amount }{"\u00A0"}l { $how } fuel

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
numbered-strings =
    { $count ->
        [one] 1 string
       *[other] { $count } strings
    }
counted-inputs =
    { $count ->
        [one] one MPPT input
       *[other] { $count } MPPT inputs
    }

## The rules for strings, and where they come from.

rule-cold-voltage-on-drive = open-circuit voltage on the coldest morning stays below the device's maximum DC voltage (IEC 62548; the manufacturer's datasheet)
rule-cold-voltage-on-inverter = { rule-cold-voltage-on-drive }
rule-cold-voltage-of-module = open-circuit voltage on the coldest morning stays below the modules' system voltage (IEC 61730; the datasheet)
rule-mppt-floor = maximum-power voltage at a hot noon stays inside the inverter's MPPT window
rule-mppt-ceiling = maximum-power voltage in cold sun stays inside the inverter's MPPT window; above it some power is lost
rule-drive-start = open-circuit voltage at a hot noon is high enough to start the drive
rule-pump-speed = the strings start the pump at a hot noon: they reach its start frequency
rule-useful-speed = the strings run the pump at a useful speed at a hot noon; its speed is the highest frequency for which the strings give enough power at some voltage, with no less flux than the drive allows
rule-strings-on-input = no more strings on an MPPT input than fit there
rule-inputs = there are enough MPPT inputs; all strings of an input go to one drive or to none, and inputs are never joined
rule-short-circuit-on-input = 1.25 times the strings' short-circuit current stays below the input's maximum short-circuit current (IEC 62548, cited from memory; the datasheet)
rule-short-circuit-on-drive = { rule-short-circuit-on-input }
rule-current-on-input = the strings' maximum-power current stays below the maximum operating current of the input; any excess is clipped
rule-current-on-drive = { rule-current-on-input }
rule-power-on-inverter = PV power stays below the manufacturer's limit for connected modules
rule-power-on-drive = { rule-power-on-inverter }
rule-fuse-on-inverter = each string has a fuse if the others could push more than the module's maximum fuse rating back through a faulty string; the fuse is rated 1.5 to 2.4 times the string's short-circuit current, and at most the module's maximum fuse rating (IEC 62548)
rule-fuse-on-drive = { rule-fuse-on-inverter }

## A violated rule. $modules and $strings are counts in words; $value, $limit and $beyond include their units.

broken-cold-voltage-on-drive = { $modules } in series reach { $value } at open circuit on the coldest morning; the maximum is { $limit }: { $beyond } too high
    .usual = { $modules } in series reach { $value } at open circuit on the coldest morning; `greatest_dc_v` is not given, and such devices usually withstand { $limit }: { $beyond } too high
broken-cold-voltage-on-inverter = { broken-cold-voltage-on-drive }
broken-cold-voltage-of-module = { $modules } in series reach { $value } at open circuit on the coldest morning; the modules' maximum is { $limit }: { $beyond } too high
broken-mppt-floor = the maximum-power voltage of { $modules } in series at a hot noon is { $value }; the MPPT window starts at { $limit }: { $beyond } too low
broken-mppt-ceiling = the maximum-power voltage of { $modules } in series in cold sun is { $value }; the MPPT window ends at { $limit }: { $beyond } too high, and some power is lost
broken-drive-start = { $modules } in series reach { $value } at open circuit at a hot noon; the drive starts at { $limit }: { $beyond } too low
broken-pump-speed = { $strings } of { $modules } run the pump at { $value } at a hot noon; the minimum is { $limit }: { $beyond } too low
    .stopped = { $strings } of { $modules } cannot run the pump at a hot noon; the minimum is { $limit }
    .no-strings = no strings feed it: its pump does not run in an outage
broken-useful-speed = { $strings } of { $modules } run the pump at { $value } at a hot noon; less than { $limit } costs water: { $beyond } too low
broken-strings-on-input = { $strings } share an MPPT input; the maximum is { $limit }
broken-inputs = the strings need { $value } MPPT inputs; the inverter has { $limit }
broken-short-circuit-on-input = 1.25 times the short-circuit current of { $strings } on an input is { $value }; the maximum is { $limit }: { $beyond } too high
broken-short-circuit-on-drive = 1.25 times the short-circuit current of { $strings } is { $value }; the maximum is { $limit }: { $beyond } too high
broken-current-on-input = the maximum-power current of { $strings } on an input is { $value }; the input draws at most { $limit }, so up to { $beyond } are clipped
broken-current-on-drive = the maximum-power current of { $strings } is { $value }; the drive draws at most { $limit }, so up to { $beyond } are clipped
broken-power-on-inverter = { $value } of modules are connected; the maximum is { $limit }: { $beyond } too much
broken-power-on-drive = { broken-power-on-inverter }
broken-fuse-on-inverter = if one of { $strings } is faulty, the others push { $value } back through it; the modules' maximum fuse rating is { $limit }, and no fuse fits, because a fuse must be rated above 1.5 times the short-circuit current
broken-fuse-on-drive = { broken-fuse-on-inverter }

## How to fix it. $count is the number of modules in series, $strings that of strings in words; $device is the rating that a device would need.

at-most-in-series = at most { $count } in series
    .none = no string of these modules fits
at-least-in-series = at least { $count } in series

fix-cold-voltage-on-drive = { $series }, or a drive that withstands { $device } V
fix-cold-voltage-on-inverter = { $series }, or an inverter that withstands { $device } V
fix-cold-voltage-of-module = { $series }, or modules with a higher maximum system voltage
fix-mppt-floor = { $series }, or an inverter with an MPPT window from { $device } V
fix-mppt-ceiling = { $series }, or an inverter with an MPPT window up to { $device } V
fix-drive-start = { $series }, or a drive that starts at { $device } V
fix-pump-speed = connect strings to this drive
    .voltage = the bus voltage is too low: more modules in series, more strings on this drive, a drive with a boost stage, or a motor of lower voltage
    .power = the array's power is too low: more strings on this drive, or a smaller pump
    .nothing = at the allowed frequency the pump does not reach the head, or the water in the well comes too close to the intake (`intake_margin_m`): see the duty point
fix-useful-speed = { fix-pump-speed }
fix-strings-on-input = at most { $strings } on an input; use more inputs
fix-inputs = more strings on an input (`strings_per_input`), or an inverter with { $device } MPPT inputs
fix-short-circuit-on-input = at most { $strings } on an input, or an inverter whose inputs accept a short-circuit current of { $device } A
fix-short-circuit-on-drive = at most { $strings } on the drive, or a drive that accepts a short-circuit current of { $device } A
fix-current-on-input = fewer strings on an input, or accept the loss: the yearly results do not include it
fix-current-on-drive = fewer strings on the drive, or accept the loss: the yearly results do not include it
fix-power-on-inverter = connect fewer modules, or use a larger inverter
fix-power-on-drive = connect fewer strings, or use a larger drive
fix-fuse-on-inverter = at most { $strings } in parallel, or modules with a maximum fuse rating above { $device } A
fix-fuse-on-drive = { fix-fuse-on-inverter }

## Other findings.

not-given = not checked: `{ $key }` is not given; it must be { $value } or more
    .less = not checked: `{ $key }` is not given; it must be { $value } or less
    .window = `{ $key }` is not given; checked against { $limit }, the upper limit of the MPPT window
    .usual = `{ $key }` is not given; checked against { $limit }, the usual maximum of such drives
    .fix = copy `{ $key }` from the datasheet
found-record = the weather file has { $weather } °C, colder than the given record of { $record } °C: one of them is wrong
    .hotter = the weather file has { $weather } °C, hotter than the given record of { $record } °C: one of them is wrong
    .fix = ask the nearest weather service, then correct `record_low_c`
    .fix-hotter = ask the nearest weather service, then correct `record_high_c`
found-no-strings = no strings feed it: its pump does not run in an outage
    .inverter = no strings feed it: it is not used
    .fix = connect strings to it, or remove it
found-planes-apart = its strings are on planes that differ by { $apart }°; the sun never lights both equally, but the speed check assumes that it does
    .fix = check its speed over the year (`daylift run`)
found-array-over-pump = { $kwp } kWp feed it in an outage, { $ratio } times the { $pump } kW that the pump takes at its duty point
found-poles =
    { $inputs ->
        [one] the strings of one MPPT input switch to it in an outage: a changeover of 2 poles
       *[other] the strings of { $inputs } MPPT inputs switch to it in an outage; both poles of each input are disconnected from the inverter, so that the inputs are never joined there: a changeover of { $poles } poles
    }
found-string-fuses = if one of { $parallel } strings is faulty, the others push { $reverse } A back through it; the modules' maximum fuse rating is { $fuse } A: fit each string with a fuse of { $rating } A, rated for { $volts } V DC or more
found-held-bus = mains on its second input holds the bus at { $held } V; at a hot noon the strings give the most power at { $best } V, and less at the held voltage
    .nothing = mains on its second input holds the bus at { $held } V; at a hot noon the strings' open-circuit voltage is only { $open } V, so they give no power at the held voltage
found-dc-over-ac = { $kwp } kWp on { $inputs }, { $ratio } times its rated output
    .clips = { $kwp } kWp on { $inputs }, { $ratio } times its rated output: it clips much of the power around noon
found-idle-strings = { $kwp } kWp feed no drive and are idle in an outage

## The one limit that must change to make some layout suitable. $not is ` instead of 800.0 V`, where there is a limit.

change-limit = {" "}instead of { $limit }
change-then = then strings of { $series } are suitable
fixed-cold-voltage-on-drive = { $device }: one that withstands { $value } DC{ $not }; { $then }
fixed-cold-voltage-on-inverter = { fixed-cold-voltage-on-drive }
fixed-cold-voltage-of-module = modules with a maximum system voltage of { $value }{ $not }; { $then }
fixed-mppt-floor = { $device }: one with an MPPT window from { $value }{ $not }; { $then }
fixed-drive-start = { $device }: one that starts at { $value }{ $not }; { $then }
fixed-pump-speed = { $device }: a pump that reaches the head at the allowed frequency, or an intake deeper below the standing water level
    .voltage = { $device }: one with a boost stage, or a motor of lower voltage; the bus voltage of strings of { $series } runs the pump only at { $value }{ $not }
    .power = { $device }: a smaller pump or more modules; all strings of { $series } run the pump at { $value }{ $not }
fixed-strings-on-input = { $device }: one whose MPPT inputs take { $value } strings{ $not }; { $then }
fixed-inputs = { $device }: one with { $value } MPPT inputs{ $not }; { $then }
fixed-short-circuit-on-input = { $device }: one that accepts a short-circuit current of { $value }{ $not }; { $then }
fixed-short-circuit-on-drive = { fixed-short-circuit-on-input }
fixed-power-on-inverter = { $device }: one that allows { $value } of modules{ $not }; { $then }
fixed-power-on-drive = { fixed-power-on-inverter }
fixed-fuse-on-inverter = modules with a maximum fuse rating above { $amps } A; { $then }
fixed-fuse-on-drive = { fixed-fuse-on-inverter }

## The rule of pumping on mains, in results and on the page.

rule-all-hours = all
rule-as-written = –
    .long = not searched: as in the plant file, otherwise the defaults
rule-best = best
    .long = the best rule that keeps today's water
rule-wettest = most water
    .long = no rule keeps today's water; this one delivers most
rule-all-parts = all
rule-no-part = –
