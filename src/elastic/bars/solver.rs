//! The stiffness of all spans between their nodes, factored once: displacements of the nodes under any loads on them.
//!
//! The first node is held. Loads that balance each other move the others against it just as they do in a body that is held
//! elsewhere, so that any support can be laid on afterwards.

use faer::Side;
use faer::linalg::solvers::Solve;
use faer::sparse::linalg::solvers::Llt;
use faer::sparse::{SparseColMat, Triplet};
use nalgebra::{DMatrix, Matrix6, SMatrix};

use super::layout::BarLayout;
use super::span::{SpanElements, relative};

/// A span with its stiffness.
pub(super) struct SpanStiffness {
    pub(super) elements: SpanElements,
    /// What its end gives way by from the motions of both nodes.
    pub(super) relative: SMatrix<f64, 6, 12>,
    /// Force and moment at its end per displacement and rotation against its start.
    pub(super) stiffness: Matrix6<f64>,
}

impl SpanStiffness {
    /// `None` where numbers lie too far apart.
    pub(super) fn all(layout: &BarLayout) -> Option<Vec<Self>> {
        let of = |span| {
            let elements = SpanElements::of(layout, span);
            let stiffness = elements.flexibility().cholesky()?.inverse();
            Some(Self {
                relative: relative(span, elements.ends()),
                stiffness,
                elements,
            })
        };
        layout.spans.iter().map(of).collect()
    }
}

/// Freedoms of a node.
pub(super) const FREEDOMS: usize = 6;

/// The factored stiffness of the nodes.
pub(super) struct NodeStiffness {
    /// `None` where there is one node only.
    factors: Option<Llt<usize, f64>>,
    nodes: usize,
}

impl NodeStiffness {
    /// `None` where nodes do not hang together, or numbers lie too far apart.
    pub(super) fn new(layout: &BarLayout, spans: &[SpanStiffness]) -> Option<Self> {
        let nodes = layout.nodes.len();
        if nodes <= 1 {
            return Some(Self {
                factors: None,
                nodes,
            });
        }
        let mut entries = Vec::new();
        for (span, body) in layout.spans.iter().zip(spans) {
            let ends = span.grips.map(|grip| grip.node);
            // Within one rigid node nothing gives way.
            if ends[0] != ends[1] {
                let matrix = body.relative.transpose() * body.stiffness * body.relative;
                lay(&matrix, ends, &mut entries);
            }
        }
        let size = FREEDOMS * (nodes - 1);
        let matrix = SparseColMat::try_new_from_triplets(size, size, &entries).ok()?;
        Some(Self {
            factors: Some(matrix.sp_cholesky(Side::Lower).ok()?),
            nodes,
        })
    }

    /// Displacements and rotations of all nodes, one under the other, from forces and moments on them, a column for each load.
    pub(super) fn displacements(&self, loads: &DMatrix<f64>) -> DMatrix<f64> {
        let mut moved = DMatrix::zeros(FREEDOMS * self.nodes, loads.ncols());
        if let Some(factors) = self.factors.as_ref().filter(|_| loads.ncols() > 0) {
            let size = FREEDOMS * (self.nodes - 1);
            let free = faer::Mat::from_fn(size, loads.ncols(), |i, j| loads[(i + FREEDOMS, j)]);
            let solved = factors.solve(&free);
            for j in 0..loads.ncols() {
                for i in 0..size {
                    moved[(i + FREEDOMS, j)] = solved[(i, j)];
                }
            }
        }
        moved
    }
}

/// Adds the lower half of a span's matrix, but for what belongs to the held node.
fn lay(
    matrix: &SMatrix<f64, 12, 12>,
    ends: [usize; 2],
    entries: &mut Vec<Triplet<usize, usize, f64>>,
) {
    let place = |i: usize| (FREEDOMS * ends[i / FREEDOMS] + i % FREEDOMS).checked_sub(FREEDOMS);
    for j in 0..2 * FREEDOMS {
        for i in 0..2 * FREEDOMS {
            if let (Some(row), Some(column)) = (place(i), place(j))
                && row >= column
            {
                entries.push(Triplet::new(row, column, matrix[(i, j)]));
            }
        }
    }
}
