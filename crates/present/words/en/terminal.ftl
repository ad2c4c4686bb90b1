# Words that only the terminal says. Numbers come in as text, units among the words where a sentence holds them.

## Units in words.

unit-days = days
unit-years = years

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

use-letter-to_pump = P
use-letter-to_loads = L
use-letter-to_battery = B
use-letter-exported_paid = E
use-letter-exported_unpaid = U
use-conversion = conversion and cables
    .letter = c
source-letter-array = A
source-letter-grid = G
source-letter-battery = B
source-letter-generator = N
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
