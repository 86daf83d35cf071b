//! What a sweep found as a table for other programs: CSV (RFC 4180), in the scene's units.

use super::tally::{CaseTally, Extreme};
use super::{Sweep, SweepTally};
use crate::statics::{CaseIndex, ReactionKind};

/// Parts of all values that the quantiles of the table lie above.
const QUANTILES: [f64; 7] = [0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99];

/// The columns, in their order.
const HEAD: [&str; 19] = [
    "case",
    "quantity",
    "unit",
    "count",
    "as_written",
    "mean",
    "deviation",
    "q01",
    "q05",
    "q25",
    "q50",
    "q75",
    "q95",
    "q99",
    "least",
    "least_placement",
    "greatest",
    "greatest_placement",
    "open",
];

/// The margin and every reaction of every case, a row for each.
///
/// # Errors
/// Only for a bug of ours: rows are written to memory and have one length.
pub fn csv(sweep: &Sweep, tally: &SweepTally) -> Result<Vec<u8>, csv::Error> {
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(HEAD)?;
    let units = &sweep.study().model().units;
    let as_written = sweep.margin_as_written();
    let spread = tally.margins.mean_and_deviation();
    let margin = TableRow {
        case: "",
        quantity: "margin",
        unit: (units.length.symbol(), units.length.in_metres()),
        count: tally.margins.count(),
        as_written: Some(as_written),
        spread: spread.map(|[mean, deviation]| [as_written + mean, deviation]),
        quantiles: QUANTILES.map(|part| tally.margin(part, as_written)),
        ends: [tally.worst, None],
        open: None,
    };
    table.write_record(margin.fields())?;
    let cases = sweep.cases().into_iter().zip(&tally.cases);
    for ((case, tally), as_written) in cases.zip(sweep.as_written()) {
        add_case(&mut table, sweep, case, tally, as_written)?;
    }
    table
        .into_inner()
        .map_err(|error| error.into_error().into())
}

fn add_case(
    table: &mut csv::Writer<Vec<u8>>,
    sweep: &Sweep,
    case: CaseIndex,
    tally: &CaseTally,
    as_written: &[f64],
) -> Result<(), csv::Error> {
    let model = sweep.study().model();
    let moment = model.units.moment_symbol();
    let reactions = model.reactions.iter().zip(&tally.reactions);
    for ((reaction, tally), as_written) in reactions.zip(as_written) {
        let unit = match reaction.kind {
            ReactionKind::Force => {
                let unit = model.units.force;
                (unit.symbol(), unit.in_newtons())
            }
            ReactionKind::Couple => (moment.as_str(), model.units.moment_in_newton_metres()),
        };
        let spread = tally.deviations.mean_and_deviation();
        let row = TableRow {
            case: &model.cases[case].name,
            quantity: &reaction.name,
            unit,
            count: tally.deviations.count(),
            as_written: Some(*as_written),
            spread: spread.map(|[mean, deviation]| [as_written + mean, deviation]),
            quantiles: QUANTILES.map(|part| tally.quantile(part, *as_written)),
            ends: [tally.least, tally.greatest],
            open: Some(tally.open),
        };
        table.write_record(row.fields())?;
    }
    Ok(())
}

/// A row before it is written.
struct TableRow<'a> {
    case: &'a str,
    quantity: &'a str,
    /// Its symbol, and what one of it is in SI.
    unit: (&'a str, f64),
    count: u64,
    as_written: Option<f64>,
    /// Mean and standard deviation.
    spread: Option<[f64; 2]>,
    quantiles: [Option<f64>; QUANTILES.len()],
    ends: [Option<Extreme>; 2],
    open: Option<u64>,
}

impl TableRow<'_> {
    /// Its fields; those of which nothing is known are empty.
    fn fields(&self) -> Vec<String> {
        let (symbol, unit) = self.unit;
        let number =
            |value: Option<f64>| value.map_or(String::new(), |value| (value / unit).to_string());
        let count = |count: Option<u64>| count.map_or(String::new(), |count| count.to_string());
        let [mean, deviation] = [0, 1].map(|which| self.spread.map(|spread| spread[which]));
        let mut fields = vec![
            self.case.to_owned(),
            self.quantity.to_owned(),
            symbol.to_owned(),
            self.count.to_string(),
        ];
        fields.extend([self.as_written, mean, deviation].map(number));
        fields.extend(self.quantiles.map(number));
        for end in self.ends {
            fields.push(number(end.map(|end| end.value)));
            fields.push(count(end.map(|end| end.placement)));
        }
        fields.push(count(self.open));
        fields
    }
}
