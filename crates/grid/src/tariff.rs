//! Energy prices by season and hour of the civil day.

use daylift_units::{Fault, Hour, Hourly, Month, MonthHour, Monthly};

/// A price for some hours of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// First hour, 0 to 23.
    pub from_h: u8,
    /// Hour at which the price ends, 1 to 24.
    pub to_h: u8,
    /// Price \[money/J\].
    pub per_j: f64,
    /// Credit for energy exported in these hours \[money/J\], if the tariff has credits by hour.
    pub credit_per_j: Option<f64>,
}

/// Some months with their prices.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// Name as on the bill.
    pub name: String,
    /// Months, 1 to 12.
    pub months: Vec<u8>,
    /// Prices that cover the whole day.
    pub prices: Vec<Price>,
}

/// A tariff as read from the plant file, unchecked.
#[derive(Debug, Clone, PartialEq)]
pub struct TariffSheet {
    /// Currency, for printing.
    pub currency: String,
    /// Fixed charge per month.
    pub fixed_per_month: f64,
    /// The seasons.
    pub seasons: Vec<Season>,
}

/// A tariff with exactly one price for every hour of every month.
#[derive(Debug, Clone, PartialEq)]
pub struct Tariff {
    currency: String,
    fixed_per_month: f64,
    price_per_j: MonthHour<f64>,
    credit_per_j: MonthHour<Option<f64>>,
}

impl Tariff {
    /// Checks that the seasons cover every hour of every month exactly once.
    ///
    /// # Errors
    /// A fault for each season with a gap or an overlap in its day, and for the months without a season or with more
    /// than one.
    pub fn new(sheet: &TariffSheet) -> Result<Self, Vec<Fault>> {
        let mut faults = month_faults(&sheet.seasons);
        let mut tariff = Self {
            fixed_per_month: sheet.fixed_per_month,
            ..Self::empty(&sheet.currency)
        };
        for season in &sheet.seasons {
            tariff.put(season, &mut faults);
        }
        if faults.is_empty() { Ok(tariff) } else { Err(faults) }
    }

    /// Enters a season's prices into its months, and adds faults for gaps and overlaps in its day.
    fn put(&mut self, season: &Season, faults: &mut Vec<Fault>) {
        let mut day: Hourly<Option<f64>> = Hourly::default();
        let mut credits = Hourly::default();
        let mut twice = Vec::new();
        for price in &season.prices {
            for (hour, slot) in &mut day {
                if (price.from_h..price.to_h).contains(&hour.begins_h()) {
                    if slot.is_some() {
                        twice.push(hour);
                    }
                    *slot = Some(price.per_j);
                    credits[hour] = price.credit_per_j;
                }
            }
        }
        let holes: Vec<Hour> = day.iter().filter(|(_, slot)| slot.is_none()).map(|(hour, _)| hour).collect();
        if !holes.is_empty() {
            faults.push(hours_fault(&season.name, "no price", &holes));
        }
        if !twice.is_empty() {
            faults.push(hours_fault(&season.name, "more than one price", &twice));
        }
        for month in season.months.iter().filter_map(|&number| Month::numbered(number)) {
            self.price_per_j[month] = day.map(|_, per_j| per_j.unwrap_or(0.0));
            self.credit_per_j[month] = credits;
        }
    }

    /// A tariff without any price.
    fn empty(currency: &str) -> Self {
        Self {
            currency: currency.to_owned(),
            fixed_per_month: 0.0,
            price_per_j: MonthHour::default(),
            credit_per_j: MonthHour::default(),
        }
    }

    /// Currency, for printing.
    #[must_use]
    pub fn currency(&self) -> &str {
        &self.currency
    }

    /// Fixed charge per month.
    #[must_use]
    pub fn fixed_per_month(&self) -> f64 {
        self.fixed_per_month
    }

    /// Credits by month and hour \[money/J\], if the tariff has them.
    #[must_use]
    pub fn credits(&self) -> &MonthHour<Option<f64>> {
        &self.credit_per_j
    }

    /// Price in an hour of a month \[money/J\].
    #[must_use]
    pub fn price_per_j(&self, month: Month, hour: Hour) -> f64 {
        self.price_per_j[month][hour]
    }
}

fn month_faults(seasons: &[Season]) -> Vec<Fault> {
    let mut count: Monthly<u32> = Monthly::default();
    for month in seasons.iter().flat_map(|s| &s.months).filter_map(|&number| Month::numbered(number)) {
        count[month] += 1;
    }
    let list = |wanted: fn(u32) -> bool| {
        let months: Vec<String> = count
            .iter()
            .filter(|&(_, &c)| wanted(c))
            .map(|(month, _)| month.number().to_string())
            .collect();
        months.join(", ")
    };
    let mut faults = Vec::new();
    for (months, said) in [
        (list(|c| c == 0), "no season"),
        (list(|c| c > 1), "more than one season"),
    ] {
        if !months.is_empty() {
            faults.push(Fault::new(
                "season",
                "price of energy",
                format!("{said} for month {months}"),
                "every month in exactly one season",
                "correct the `months` of the seasons in [[tariff.season]]",
            ));
        }
    }
    faults
}

fn hours_fault(season: &str, said: &str, hours: &[Hour]) -> Fault {
    Fault::new(
        "season",
        format!("price of energy in season \"{season}\""),
        format!("{said} for {}", spans(hours)),
        "every hour of the day with exactly one price",
        "correct `from_h` and `to_h` in its `prices`; write a price that passes midnight as two entries",
    )
}

/// `6:00–9:00, 17:00–18:00` for hours 6, 7, 8, 17.
fn spans(hours: &[Hour]) -> String {
    let mut out: Vec<(u8, u8)> = Vec::new();
    for h in hours.iter().map(|hour| hour.begins_h()) {
        match out.last_mut() {
            Some(last) if last.1 == h => last.1 = h + 1,
            _ => out.push((h, h + 1)),
        }
    }
    let text: Vec<String> = out.iter().map(|(a, b)| format!("{a}:00–{b}:00")).collect();
    text.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(prices: &[(u8, u8, f64)], months: &[u8]) -> TariffSheet {
        TariffSheet {
            currency: "X".into(),
            fixed_per_month: 0.0,
            seasons: vec![Season {
                name: "all".into(),
                months: months.to_vec(),
                prices: prices
                    .iter()
                    .map(|&(from_h, to_h, per_j)| Price {
                        from_h,
                        to_h,
                        per_j,
                        credit_per_j: None,
                    })
                    .collect(),
            }],
        }
    }

    const YEAR: [u8; 12] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

    #[test]
    fn every_hour_finds_its_price() {
        let tariff = Tariff::new(&sheet(&[(0, 6, 1.0), (6, 22, 2.0), (22, 24, 1.0)], &YEAR)).unwrap();
        let prices = [Hour::H5, Hour::H6, Hour::H21, Hour::H22].map(|hour| tariff.price_per_j(Month::December, hour));
        assert!(
            prices
                .iter()
                .zip([1.0, 2.0, 2.0, 1.0])
                .all(|(price, wanted)| (price - wanted).abs() < 1e-12)
        );
    }

    #[test]
    fn every_month_finds_its_season() {
        let mut two = sheet(&[(0, 24, 1.0)], &YEAR[..6]);
        two.fixed_per_month = 24.0;
        two.seasons.push(sheet(&[(0, 24, 3.0)], &YEAR[6..]).seasons.remove(0));
        let tariff = Tariff::new(&two).unwrap();
        let prices_near = |wanted: f64, months: [Month; 2]| {
            let price = |month: Month| tariff.price_per_j(month, Hour::H23);
            months.into_iter().all(|month| (price(month) - wanted).abs() < 1e-12)
        };
        assert!(prices_near(1.0, [Month::January, Month::June]) && prices_near(3.0, [Month::July, Month::December]));
        assert_eq!(tariff.currency(), "X");
        assert!((tariff.fixed_per_month() - 24.0).abs() < 1e-12);
    }

    #[test]
    fn every_hour_finds_its_credit() {
        let mut summer = sheet(&[(0, 8, 1.0), (8, 16, 2.0), (16, 24, 1.0)], &YEAR[3..9]);
        summer.seasons[0].prices[1].credit_per_j = Some(0.5);
        summer.seasons.push(sheet(&[(0, 24, 1.0)], &[1, 2, 3, 10, 11, 12]).seasons.remove(0));
        let tariff = Tariff::new(&summer).unwrap();
        let expected = MonthHour::from_fn(|month| {
            let summer = (Month::April..=Month::September).contains(&month);
            Hourly::from_fn(|hour| (summer && (Hour::H8..Hour::H16).contains(&hour)).then_some(0.5))
        });
        assert_eq!(tariff.credits(), &expected);
    }

    #[test]
    fn hours_apart_are_listed_separately() {
        assert_eq!(
            spans(&[Hour::H6, Hour::H7, Hour::H8, Hour::H17]),
            "6:00–9:00, 17:00–18:00"
        );
    }

    #[test]
    fn gaps_and_overlaps_are_reported_together_with_their_hours() {
        let faults = Tariff::new(&sheet(&[(0, 7, 1.0), (6, 20, 2.0)], &YEAR[..11])).unwrap_err();
        let text: Vec<String> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(faults.len(), 3);
        assert!(text[0].contains("no season for month 12"), "{}", text[0]);
        assert!(text[1].contains("no price for 20:00–24:00"), "{}", text[1]);
        assert!(text[2].contains("more than one price for 6:00–7:00"), "{}", text[2]);
    }
}
