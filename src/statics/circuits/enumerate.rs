//! Finding circuits: a basis by elimination, and all of them by trying sets one larger than the rank.

use std::collections::BTreeSet;

use nalgebra::Vector6;

use super::echelon::{Echelon, SearchEnd};
use super::{OpenCoefficients, Stress};
use crate::statics::indices::ReactionIndex;

/// Sets tried before giving up on finding all circuits.
const MOST_TRIES: usize = 400;
/// One circuit for each reaction beyond a maximal independent set; at most `most`.
pub(super) fn basis(
    columns: &[Vector6<f64>],
    echelon: &Echelon,
    open: &OpenCoefficients,
    most: usize,
) -> Vec<Stress> {
    echelon
        .spare()
        .take(most)
        .map(|i| {
            let stress = echelon.circuit(columns, i).into_iter();
            open.tidy(stress.map(|(i, x)| (ReactionIndex::new(i), x)).collect())
        })
        .collect()
}

/// All circuits; `None` where too many sets would have to be tried, or where the rank of some sets hangs on the
/// tolerance, so that not even the circuits of the basis come up among them.
///
/// Reactions that no circuit joins are looked at apart, as groups that share nothing.
pub(super) fn all(
    columns: &[Vector6<f64>],
    basis: &[Stress],
    open: &OpenCoefficients,
    tolerance: f64,
) -> Option<Vec<Stress>> {
    let mut left = MOST_TRIES;
    let mut found = Vec::new();
    for group in joined(basis) {
        let own = basis.iter().filter(|stress| group.contains(&stress[0].0));
        let redundancy = own.clone().count();
        if redundancy == 1 {
            found.extend(own.cloned());
            continue;
        }
        let size = group.len() - redundancy + 1;
        left = left.checked_sub(binomial(group.len(), size)?)?;
        let circuits = of_group(columns, &group, size, open, tolerance);
        let met: BTreeSet<ReactionIndex> = circuits.iter().flatten().map(|(i, _)| *i).collect();
        if circuits.len() < redundancy || met != group {
            return None;
        }
        found.extend(circuits);
    }
    Some(found)
}

/// The connected groups of reactions: those that circuits of a basis chain together.
fn joined(basis: &[Stress]) -> Vec<BTreeSet<ReactionIndex>> {
    let mut groups: Vec<BTreeSet<ReactionIndex>> = Vec::new();
    for stress in basis {
        let mut group: BTreeSet<ReactionIndex> = stress.iter().map(|(i, _)| *i).collect();
        groups.retain(|other| {
            let apart = other.is_disjoint(&group);
            if !apart {
                group.extend(other);
            }
            apart
        });
        groups.push(group);
    }
    groups
}

/// Number of ways to choose; `None` beyond what would be tried.
fn binomial(from: usize, choose: usize) -> Option<usize> {
    let mut ways: usize = 1;
    for step in 0..choose.min(from - choose) {
        ways = ways * (from - step) / (step + 1);
        if ways > MOST_TRIES {
            return None;
        }
    }
    Some(ways)
}

/// Circuits of a connected group. One larger than the rank, a set that reaches the rank holds exactly one.
fn of_group(
    columns: &[Vector6<f64>],
    group: &BTreeSet<ReactionIndex>,
    size: usize,
    open: &OpenCoefficients,
    tolerance: f64,
) -> Vec<Stress> {
    let members: Vec<ReactionIndex> = group.iter().copied().collect();
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    let mut pick: Vec<usize> = (0..size).collect();
    loop {
        let own: Vec<Vector6<f64>> = pick.iter().map(|i| columns[members[*i].get()]).collect();
        let echelon = Echelon::new(&own, SearchEnd::Below(tolerance));
        let mut spare = echelon.spare();
        if let (Some(spare), None) = (spare.next(), spare.next()) {
            let stress = echelon.circuit(&own, spare).into_iter();
            let stress = open.tidy(stress.map(|(i, x)| (members[pick[i]], x)).collect());
            if seen.insert(stress.iter().map(|(i, _)| *i).collect::<Vec<_>>()) {
                found.push(stress);
            }
        }
        if !advance(&mut pick, members.len()) {
            return found;
        }
    }
}

/// The next choice in lexical order.
fn advance(pick: &mut [usize], from: usize) -> bool {
    let size = pick.len();
    let Some(at) = (0..size).rev().find(|i| pick[*i] < from - size + i) else {
        return false;
    };
    pick[at] += 1;
    for i in at + 1..size {
        pick[i] = pick[i - 1] + 1;
    }
    true
}
