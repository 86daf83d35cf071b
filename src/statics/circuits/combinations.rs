//! What equilibrium still decides of reactions that it does not decide one by one.
//!
//! A combination is decided exactly when every self-stress leaves it unchanged. There are as many independent
//! ones as undecided reactions less the redundancy; the simplest are sums of two.

use nalgebra::Vector6;

use super::echelon::{ABSENT, Echelon, Stop};
use super::{ROUNDING, columns};
use crate::statics::diagnosis::Diagnosis;
use crate::statics::model::{Model, ReactionKind};
use crate::statics::wrench::stack;

/// A combination of undecided reactions that equilibrium decides.
#[derive(Debug, Clone, PartialEq)]
pub struct Combination {
    /// Indices into the model's reactions, ascending; at least two.
    pub reactions: Vec<usize>,
    /// Coefficients, one for each of `reactions`: numbers where all are forces or all are couples, else m for
    /// the forces and numbers for the couples. The first force, or the first couple if there is one, has 1.
    pub coefficients: Vec<f64>,
    /// Whether the combination is a force, N, or has couples in it and is a moment, N·m.
    pub kind: ReactionKind,
    /// Its value in each load case, in the model's order; `None` where there is no equilibrium.
    pub values: Vec<Option<f64>>,
}

/// Combinations of more reactions than this are not simple and are left out.
const MOST_TERMS: usize = 8;

/// Independent decided combinations of the undecided reactions: those of two first, forces before moments.
pub fn combinations(model: &Model, diagnosis: &Diagnosis) -> Vec<Combination> {
    if diagnosis.counts.redundancy == 0 {
        return Vec::new();
    }
    let columns = columns(model);
    let echelon = Echelon::new(&columns, Stop::AtRank(diagnosis.counts.rank));
    let rows = rows(&columns, &echelon);
    let particular = particular(model, &echelon);
    let mut found: Vec<Combination> = terms(model, &rows)
        .into_iter()
        .filter(|terms| terms.len() <= MOST_TERMS)
        .map(|terms| combination(model, diagnosis, &terms, &particular))
        .collect();
    found.sort_by_cached_key(|sum| {
        let mixed = sum.kind == ReactionKind::Couple;
        (sum.reactions.len(), mixed, sum.reactions.clone())
    });
    found
}

/// A chosen reaction and the spare ones that it stands in for: `x + Σ c x_spare` is decided.
struct Row {
    chosen: usize,
    spare: Vec<(usize, f64)>,
}

/// The rows of those chosen reactions that are undecided.
fn rows(columns: &[Vector6<f64>], echelon: &Echelon) -> Vec<Row> {
    let mut rows: Vec<Row> = echelon
        .independent
        .iter()
        .map(|chosen| Row {
            chosen: *chosen,
            spare: Vec::new(),
        })
        .collect();
    for spare in echelon.spare() {
        let reduced = echelon.reduced(&columns[spare]);
        let largest = reduced.amax().max(1.0);
        for (row, part) in rows.iter_mut().zip(reduced.iter()) {
            if part.abs() > ABSENT * largest {
                row.spare.push((spare, *part));
            }
        }
    }
    rows.retain(|row| !row.spare.is_empty());
    rows
}

type Terms = Vec<(usize, f64)>;

/// Pairs wherever two reactions always change together, one longer combination for each group that is left.
fn terms(model: &Model, rows: &[Row]) -> Vec<Terms> {
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
struct Group<'a> {
    /// Each with its share of every self-stress.
    members: Vec<(usize, f64)>,
    /// A row of more than one spare reaction, where no spare one is among the members.
    open: Option<&'a Row>,
}

fn groups(rows: &[Row]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group> = Vec::new();
    for row in rows {
        if let [(spare, part)] = row.spare.as_slice() {
            let home = groups
                .iter_mut()
                .find(|group| group.open.is_none() && group.members[0].0 == *spare);
            let member = (row.chosen, -part);
            match home {
                Some(group) => group.members.push(member),
                None => groups.push(Group {
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
            None => groups.push(Group {
                members: vec![(row.chosen, 1.0)],
                open: Some(row),
            }),
        }
    }
    groups
}

/// How many times the second row the first is, if it is.
fn ratio(row: &Row, other: &Row) -> Option<f64> {
    let same = row.spare.len() == other.spare.len()
        && row.spare.iter().zip(&other.spare).all(|(a, b)| a.0 == b.0);
    let ratio = row.spare[0].1 / other.spare.first()?.1;
    let scale = row.spare.iter().map(|(_, x)| x.abs()).fold(0.0, f64::max);
    let fits = |(a, b): (&(usize, f64), &(usize, f64))| (a.1 - ratio * b.1).abs() <= ABSENT * scale;
    (same && row.spare.iter().zip(&other.spare).all(fits)).then_some(ratio)
}

/// Pairs that join all members, plain sums along one direction first.
fn pairs(model: &Model, members: &[(usize, f64)]) -> Vec<Terms> {
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
fn strangeness(model: &Model, a: usize, b: usize) -> usize {
    let (a, b) = (&model.reactions[a], &model.reactions[b]);
    if a.kind != b.kind {
        2
    } else {
        usize::from(a.direction.cross(&b.direction).norm() > ABSENT)
    }
}

/// Some reactions that balance each load case, scaled: the chosen ones alone.
fn particular(model: &Model, echelon: &Echelon) -> Vec<Vec<(usize, f64)>> {
    let cases = model.cases.iter();
    cases
        .map(|case| {
            let load = case.resultant(&model.reference);
            let six = stack(&load.force, &(load.moment / model.length));
            let size: f64 = six.norm();
            let reduced = -echelon.reduced(&six);
            let tidy = |x: f64| if x.abs() <= ROUNDING * size { 0.0 } else { x };
            let chosen = echelon.independent.iter().copied();
            chosen.zip(reduced.iter().copied().map(tidy)).collect()
        })
        .collect()
}

fn combination(
    model: &Model,
    diagnosis: &Diagnosis,
    terms: &Terms,
    particular: &[Vec<(usize, f64)>],
) -> Combination {
    let is_couple = |i: usize| model.reactions[i].kind == ReactionKind::Couple;
    let mut terms = terms.clone();
    terms.sort_by_key(|(i, _)| *i);
    let couples = terms.iter().any(|(i, _)| is_couple(*i));
    let forces = terms.iter().any(|(i, _)| !is_couple(*i));
    let leading = terms.iter().find(|(i, _)| is_couple(*i) == couples);
    let lead = leading.map_or(1.0, |(_, c)| *c);
    // A scaled couple is its moment over the length.
    let unit = if couples { model.length } else { 1.0 };
    let value = |(case, solution): (usize, &Vec<(usize, f64)>)| {
        let of = |i: usize| {
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
        diagnosis.cases[case].possible.then_some(sum * unit)
    };
    let coefficient = |(i, c): &(usize, f64)| {
        let arm = if forces && couples && !is_couple(*i) {
            model.length
        } else {
            1.0
        };
        let plain = c / lead * arm;
        let whole = plain.round();
        if (plain - whole).abs() <= ROUNDING {
            whole
        } else {
            plain
        }
    };
    Combination {
        reactions: terms.iter().map(|(i, _)| *i).collect(),
        coefficients: terms.iter().map(coefficient).collect(),
        kind: if couples {
            ReactionKind::Couple
        } else {
            ReactionKind::Force
        },
        values: particular.iter().enumerate().map(value).collect(),
    }
}
