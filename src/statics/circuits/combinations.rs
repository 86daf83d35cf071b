//! What equilibrium still decides of reactions that it does not decide one by one.
//!
//! A combination is decided exactly when every self-stress leaves it unchanged. There are as many independent
//! ones as undecided reactions less the redundancy. Those of two reactions come first, then the equations that a person
//! would write, then whatever is left.

use nalgebra::Vector6;

use super::echelon::{ABSENT, Echelon, SearchEnd};
use super::equations::UsualEquation;
use super::{PRESENT, ROUNDING};
use crate::indexed::Indexed;
use crate::statics::diagnosis::Diagnosis;
use crate::statics::indices::{CaseIndex, ReactionIndex};
use crate::statics::model::Model;
use crate::statics::reaction::ReactionKind;

/// A combination of undecided reactions that equilibrium decides.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ReactionCombination {
    /// Indices into the model's reactions, ascending; at least two.
    pub reactions: Vec<ReactionIndex>,
    /// Coefficients, one for each of `reactions`: numbers for a force, else m for the forces and numbers for the couples.
    /// The first force, or the first couple if there is one, has 1; in a usual equation with couples, or of more than two
    /// forces whose coefficients differ, it has its own, cosine or arm, made positive.
    pub coefficients: Vec<f64>,
    /// Whether the combination is a force, N, or a moment, N·m.
    pub kind: ReactionKind,
    /// The equation of equilibrium that it is, less the reactions that are decided anyway; `None` where it is none of
    /// the usual ones.
    pub equation: Option<UsualEquation>,
    /// Its value in each load case, in the model's order; `None` where there is no equilibrium.
    pub values: Indexed<CaseIndex, Option<f64>>,
}

/// Independent decided combinations of the undecided reactions, as many as there are: those of two first, then the usual
/// equations, then others; forces before moments.
pub(crate) fn combinations(model: &Model, diagnosis: &Diagnosis) -> Vec<ReactionCombination> {
    if diagnosis.counts.redundancy == 0 {
        return Vec::new();
    }
    let shares = diagnosis.ranked.six_shares();
    let echelon = Echelon::new(&shares, SearchEnd::AtRank(diagnosis.counts.rank));
    let rows = rows(diagnosis, &shares, &echelon);
    let particular = particular(diagnosis, &echelon);
    let mut found: Vec<ReactionCombination> = simplest(model, &rows)
        .iter()
        .map(|sum| combination(model, diagnosis, sum, &particular))
        .collect();
    found.sort_by_cached_key(|sum| {
        let mixed = sum.kind == ReactionKind::Couple;
        let (terms, usual) = (sum.reactions.len(), sum.equation.is_some());
        (terms > 2, !usual, mixed, terms, sum.reactions.clone())
    });
    found
}

/// Coefficients of some reactions, scaled, and the usual equation that they are.
struct ReactionSum {
    terms: Terms,
    equation: Option<UsualEquation>,
}

/// Of the usual equations, the pairs and the rows themselves, independent ones: pairs first, and of equally many terms the
/// usual equation.
fn simplest(model: &Model, rows: &[EchelonRow]) -> Vec<ReactionSum> {
    let usual = UsualEquation::usual(model)
        .into_iter()
        .map(|equation| ReactionSum {
            terms: terms_of(model, rows, &equation),
            equation: Some(equation),
        });
    let plain = terms(model, rows).into_iter().map(|terms| ReactionSum {
        terms,
        equation: None,
    });
    let mut candidates: Vec<ReactionSum> = usual.chain(plain).collect();
    candidates.retain(|sum| sum.terms.len() >= 2);
    // Stable: sums along the axes stay before moments, and these in the order of the points.
    candidates.sort_by_key(|sum| match (sum.terms.len(), sum.equation) {
        (2, equation) => (0, equation.is_none(), 0),
        (count, equation) => (1, equation.is_none(), count),
    });
    let mut span: Vec<Vector6<f64>> = Vec::new();
    let mut found = Vec::new();
    for sum in candidates {
        let coordinates = coordinates(rows, &sum.terms);
        let Some(unit) = independent(&coordinates, &span) else {
            continue;
        };
        if sum.equation.is_none() || follows(rows, &coordinates, &sum.terms) {
            span.push(unit);
            found.push(sum);
        }
    }
    found
}

/// An equation less the reactions that are decided anyway.
fn terms_of(model: &Model, rows: &[EchelonRow], equation: &UsualEquation) -> Terms {
    let mut undecided: Vec<ReactionIndex> = rows
        .iter()
        .flat_map(|row| std::iter::once(row.chosen).chain(row.spare.iter().map(|(i, _)| *i)))
        .collect();
    undecided.sort_unstable();
    undecided.dedup();
    let coefficient = |i: ReactionIndex| equation.coefficient(model, &model.reactions[i]);
    undecided
        .into_iter()
        .map(|i| (i, coefficient(i)))
        .filter(|(_, c)| *c != 0.0)
        .collect()
}

/// A combination by its coefficients of the chosen reactions, one for each row: they determine it.
fn coordinates(rows: &[EchelonRow], terms: &Terms) -> Vector6<f64> {
    let mut coordinates = Vector6::zeros();
    for (coordinate, row) in coordinates.iter_mut().zip(rows) {
        let own = terms.iter().find(|(i, _)| *i == row.chosen);
        *coordinate = own.map_or(0.0, |(_, c)| *c);
    }
    coordinates
}

/// What a vector adds to an orthonormal span, made a unit; `None` where that is nothing.
fn independent(vector: &Vector6<f64>, span: &[Vector6<f64>]) -> Option<Vector6<f64>> {
    let unit = vector.try_normalize(0.0)?;
    let within = |rest: Vector6<f64>, other: &Vector6<f64>| rest - other * other.dot(&rest);
    let rest = span.iter().fold(unit, within);
    span.iter().fold(rest, within).try_normalize(INDEPENDENT)
}

/// Combinations count as independent when one adds this part of itself to the others.
const INDEPENDENT: f64 = 1e-6;

/// Whether the coefficients of the spare reactions are those that the chosen ones ask for.
fn follows(rows: &[EchelonRow], coordinates: &Vector6<f64>, terms: &Terms) -> bool {
    let scale = terms.iter().map(|(_, c)| c.abs()).fold(0.0, f64::max);
    let mut left: std::collections::HashMap<ReactionIndex, f64> = terms.iter().copied().collect();
    for (row, coordinate) in rows.iter().zip(coordinates.iter()) {
        left.remove(&row.chosen);
        for (spare, part) in &row.spare {
            *left.entry(*spare).or_default() -= coordinate * part;
        }
    }
    left.values().all(|rest| rest.abs() <= INDEPENDENT * scale)
}

/// A chosen reaction and the spare ones that it stands in for: `x + Σ c x_spare` is decided.
struct EchelonRow {
    chosen: ReactionIndex,
    spare: Vec<(ReactionIndex, f64)>,
}

/// The rows of those chosen reactions that are undecided.
fn rows(diagnosis: &Diagnosis, columns: &[Vector6<f64>], echelon: &Echelon) -> Vec<EchelonRow> {
    let decided = &diagnosis.ranked.decided;
    let absent = PRESENT * diagnosis.ranked.negligible;
    let mut rows: Vec<EchelonRow> = echelon
        .independent
        .iter()
        .map(|chosen| EchelonRow {
            chosen: ReactionIndex::new(*chosen),
            spare: Vec::new(),
        })
        .collect();
    for spare in echelon.spare() {
        let reduced = echelon.reduced(&columns[spare]);
        let spare = ReactionIndex::new(spare);
        let largest = reduced.amax().max(1.0);
        for (row, part) in rows.iter_mut().zip(reduced.iter()) {
            if !decided[row.chosen] && !decided[spare] && part.abs() > absent * largest {
                row.spare.push((spare, *part));
            }
        }
    }
    rows.retain(|row| !row.spare.is_empty());
    rows
}

type Terms = Vec<(ReactionIndex, f64)>;

/// Pairs wherever two reactions always change together, one longer combination for each group that is left.
fn terms(model: &Model, rows: &[EchelonRow]) -> Vec<Terms> {
    let mut found = Vec::new();
    for group in groups(rows) {
        found.extend(pairs(model, &group.members));
        if let Some(row) = group.open {
            let mut terms: Terms = vec![(row.chosen, 1.0)];
            terms.extend(&row.spare);
            found.push(terms);
        }
    }
    found
}

/// Reactions whose self-stresses keep one ratio.
struct ReactionGroup<'a> {
    /// Each with its share of every self-stress.
    members: Vec<(ReactionIndex, f64)>,
    /// A row of more than one spare reaction, where no spare one is among the members.
    open: Option<&'a EchelonRow>,
}

fn groups(rows: &[EchelonRow]) -> Vec<ReactionGroup<'_>> {
    let mut groups: Vec<ReactionGroup> = Vec::new();
    for row in rows {
        if let [(spare, part)] = row.spare.as_slice() {
            let home = groups
                .iter_mut()
                .find(|group| group.open.is_none() && group.members[0].0 == *spare);
            let member = (row.chosen, -part);
            match home {
                Some(group) => group.members.push(member),
                None => groups.push(ReactionGroup {
                    members: vec![(*spare, 1.0), member],
                    open: None,
                }),
            }
            continue;
        }
        let home = groups.iter_mut().find_map(|group| {
            let ratio = ratio(row, group.open?)?;
            Some((group, ratio))
        });
        match home {
            Some((group, ratio)) => group.members.push((row.chosen, ratio)),
            None => groups.push(ReactionGroup {
                members: vec![(row.chosen, 1.0)],
                open: Some(row),
            }),
        }
    }
    groups
}

/// How many times the second row the first is, if it is.
fn ratio(row: &EchelonRow, other: &EchelonRow) -> Option<f64> {
    let same = row.spare.len() == other.spare.len()
        && row.spare.iter().zip(&other.spare).all(|(a, b)| a.0 == b.0);
    let ratio = row.spare[0].1 / other.spare.first()?.1;
    let scale = row.spare.iter().map(|(_, x)| x.abs()).fold(0.0, f64::max);
    let fits = |(a, b): (&(ReactionIndex, f64), &(ReactionIndex, f64))| {
        (a.1 - ratio * b.1).abs() <= ABSENT * scale
    };
    (same && row.spare.iter().zip(&other.spare).all(fits)).then_some(ratio)
}

/// Pairs that join all members, plain sums along one direction first.
fn pairs(model: &Model, members: &[(ReactionIndex, f64)]) -> Vec<Terms> {
    let mut candidates: Vec<(usize, usize, usize)> = Vec::new();
    for i in 0..members.len() {
        for j in i + 1..members.len() {
            candidates.push((strangeness(model, members[i].0, members[j].0), i, j));
        }
    }
    candidates.sort_unstable();
    let mut home: Vec<usize> = (0..members.len()).collect();
    let mut found = Vec::new();
    for (_, i, j) in candidates {
        let (from, to) = (home[j], home[i]);
        if from == to {
            continue;
        }
        for other in &mut home {
            if *other == from {
                *other = to;
            }
        }
        let ((a, share_a), (b, share_b)) = (members[i], members[j]);
        found.push(vec![(a, share_b), (b, -share_a)]);
    }
    found
}

/// How little a reader expects two reactions in one sum: along one direction, of one kind, of different kinds.
fn strangeness(model: &Model, a: ReactionIndex, b: ReactionIndex) -> usize {
    let (a, b) = (&model.reactions[a], &model.reactions[b]);
    if a.kind != b.kind {
        2
    } else {
        usize::from(a.direction.cross(&b.direction).norm() > ABSENT)
    }
}

/// Some reactions that balance each load case, scaled: the chosen ones alone.
fn particular(
    diagnosis: &Diagnosis,
    echelon: &Echelon,
) -> Indexed<CaseIndex, Vec<(ReactionIndex, f64)>> {
    let cases = &diagnosis.cases;
    cases.map(|case| {
        let reduced = -echelon.reduced(&diagnosis.ranked.six_demand(&case.reactions));
        let size: f64 = reduced.norm();
        let tidy = |x: f64| if x.abs() <= ROUNDING * size { 0.0 } else { x };
        let chosen = echelon.independent.iter().copied().map(ReactionIndex::new);
        chosen.zip(reduced.iter().copied().map(tidy)).collect()
    })
}

fn combination(
    model: &Model,
    diagnosis: &Diagnosis,
    sum: &ReactionSum,
    particular: &Indexed<CaseIndex, Vec<(ReactionIndex, f64)>>,
) -> ReactionCombination {
    let mut terms = sum.terms.clone();
    terms.sort_by_key(|(i, _)| *i);
    let (kind, lead) = form(model, &terms, sum.equation);
    // A scaled couple is its moment over the length.
    let unit = match kind {
        ReactionKind::Couple => model.length,
        ReactionKind::Force => 1.0,
    };
    let value = |(case, solution): (CaseIndex, &Vec<(ReactionIndex, f64)>)| {
        let of = |i: ReactionIndex| {
            solution
                .iter()
                .find(|(j, _)| *j == i)
                .map_or(0.0, |(_, x)| *x)
        };
        let parts = || terms.iter().map(|(i, c)| c / lead * of(*i));
        let (sum, size) = (parts().sum::<f64>(), parts().map(f64::abs).sum::<f64>());
        let sum = if sum.abs() <= ROUNDING * size {
            0.0
        } else {
            sum
        };
        diagnosis.cases[case].is_balanced().then_some(sum * unit)
    };
    let coefficient = |(i, c): &(ReactionIndex, f64)| {
        let is_arm =
            kind == ReactionKind::Couple && model.reactions[*i].kind == ReactionKind::Force;
        let plain = c / lead * if is_arm { model.length } else { 1.0 };
        let whole = plain.round();
        if (plain - whole).abs() <= ROUNDING {
            whole
        } else {
            plain
        }
    };
    ReactionCombination {
        reactions: terms.iter().map(|(i, _)| *i).collect(),
        coefficients: terms.iter().map(coefficient).collect(),
        kind,
        equation: sum.equation,
        values: particular.enumerate().map(value).collect(),
    }
}

/// Whether a combination is written as a force or a moment, and what its coefficients are divided by.
fn form(model: &Model, terms: &Terms, equation: Option<UsualEquation>) -> (ReactionKind, f64) {
    let is_couple = |i: ReactionIndex| model.reactions[i].kind == ReactionKind::Couple;
    if let Some((_, couple)) = terms.iter().find(|(i, _)| is_couple(*i)) {
        let lead = match equation {
            Some(_) => couple.signum(),
            None => *couple,
        };
        return (ReactionKind::Couple, lead);
    }
    let first = terms.first().map_or(1.0, |(_, c)| *c);
    let alike =
        |(_, c): &(ReactionIndex, f64)| (c.abs() - first.abs()).abs() <= ABSENT * first.abs();
    match equation {
        Some(_) if terms.len() == 2 || terms.iter().all(alike) => (ReactionKind::Force, first),
        Some(UsualEquation::Along(_)) => (ReactionKind::Force, first.signum()),
        Some(UsualEquation::About(..)) => (ReactionKind::Couple, first.signum()),
        None => (ReactionKind::Force, first),
    }
}
