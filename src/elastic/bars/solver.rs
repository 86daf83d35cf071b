//! The stiffness of all spans between their nodes, factored once: displacements of the nodes under any loads on them.
//!
//! The first node is held. Loads that balance each other move the others against it just as they do in a body that is held
//! elsewhere, so that any support can be laid on afterwards.

use nalgebra::{DMatrix, Matrix6, SMatrix};
use nalgebra_sparse::factorization::CscCholesky;
use nalgebra_sparse::{CooMatrix, CscMatrix};

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
    factors: Option<CscCholesky<f64>>,
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
        let size = FREEDOMS * (nodes - 1);
        let mut entries = CooMatrix::new(size, size);
        for (span, body) in layout.spans.iter().zip(spans) {
            let ends = span.grips.map(|grip| grip.node);
            // Within one rigid node nothing gives way.
            if ends[0] != ends[1] {
                let matrix = body.relative.transpose() * body.stiffness * body.relative;
                lay(&matrix, ends, &mut entries);
            }
        }
        Some(Self {
            factors: Some(CscCholesky::factor(&CscMatrix::from(&entries)).ok()?),
            nodes,
        })
    }

    /// Displacements and rotations of all nodes, one under the other, from forces and moments on them, a column for each load.
    pub(super) fn displacements(&self, loads: &DMatrix<f64>) -> DMatrix<f64> {
        let mut moved = DMatrix::zeros(FREEDOMS * self.nodes, loads.ncols());
        if let Some(factors) = self.factors.as_ref().filter(|_| loads.ncols() > 0) {
            let size = FREEDOMS * (self.nodes - 1);
            let mut free = loads.rows(FREEDOMS, size).clone_owned();
            factors.solve_mut(&mut free);
            moved.rows_mut(FREEDOMS, size).copy_from(&free);
        }
        moved
    }
}

/// Adds a span's matrix, but for what belongs to the held node.
fn lay(matrix: &SMatrix<f64, 12, 12>, ends: [usize; 2], entries: &mut CooMatrix<f64>) {
    let place = |i: usize| (FREEDOMS * ends[i / FREEDOMS] + i % FREEDOMS).checked_sub(FREEDOMS);
    for j in 0..2 * FREEDOMS {
        for i in 0..2 * FREEDOMS {
            if let (Some(row), Some(column)) = (place(i), place(j)) {
                entries.push(row, column, matrix[(i, j)]);
            }
        }
    }
}
