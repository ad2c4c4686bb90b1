# What the program says in its answers: on the terminal, in JSON, and on the page, which gets these as text.
# Numbers come in as text with their decimals; $today is the name of today's way.

## What the reader of a row must know.

notice-tank-disagrees = tank: its content at the end of the year ({ $end } m³) did not come to agree with that at the start ({ $start } m³)
notice-battery-disagrees = battery: its content at the end of the year ({ $end } kWh) did not come to agree with that at the start ({ $start } kWh)
notice-books-miss = books: the balances miss { $energy } (energy), { $water } (water), { $hours } (hours) of the flow; please report this plant
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
