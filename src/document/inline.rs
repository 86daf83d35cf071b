//! Phrases inside of HTML: symbols italic, quantities on one line.

use maud::{Markup, html};

use crate::wording::{Height, Phrase};

/// A phrase as HTML.
pub fn inline(phrase: &Phrase) -> Markup {
    html! {
        @for piece in phrase.pieces() {
            @let text = html! { @if piece.is_italic { var { (piece.text) } } @else { (piece.text) } };
            @match piece.height {
                Height::Line => (text),
                Height::Below => sub { (text) },
                Height::Above => sup { (text) },
            }
        }
    }
}
