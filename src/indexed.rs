//! Lists that only an index of their own kind reaches into, so that the number of a support is never taken for that of a reaction.

use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, DerefMut};

/// A position in a list of one kind of thing, from 0.
pub trait Index: Copy + Ord + std::hash::Hash + fmt::Debug {
    /// The index of a position.
    fn new(position: usize) -> Self;

    /// The position, for matrices and for lists of another library.
    fn get(self) -> usize;
}

/// Defines an index: a position in one kind of list.
macro_rules! index {
    ($(#[$of:meta])* $visible:vis $name:ident) => {
        $(#[$of])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        $visible struct $name(usize);

        impl $name {
            /// The index of what comes first.
            $visible const FIRST: Self = Self(0);

            /// The index of a position, from 0.
            $visible const fn new(position: usize) -> Self {
                Self(position)
            }

            /// The position, from 0.
            $visible const fn get(self) -> usize {
                self.0
            }
        }

        impl $crate::indexed::Index for $name {
            fn new(position: usize) -> Self {
                Self(position)
            }

            fn get(self) -> usize {
                self.0
            }
        }
    };
}
pub(crate) use index;

/// A list whose items have indices of type `I`. As a slice it can be counted, iterated and searched.
pub struct Indexed<I, T> {
    items: Vec<T>,
    index: PhantomData<fn(I)>,
}

impl<I: Index, T> Indexed<I, T> {
    /// A list without items.
    pub const fn new() -> Self {
        Self {
            items: Vec::new(),
            index: PhantomData,
        }
    }

    /// Every index, in order.
    pub fn indices(&self) -> Indices<I> {
        Indices::between(0, self.items.len())
    }

    /// Every item with its index, in order.
    pub fn enumerate(&self) -> impl DoubleEndedIterator<Item = (I, &T)> + ExactSizeIterator {
        self.items
            .iter()
            .enumerate()
            .map(|(i, item)| (I::new(i), item))
    }

    /// The items, in order.
    pub fn as_slice(&self) -> &[T] {
        &self.items
    }

    /// The item of an index; `None` where there is none.
    pub fn get(&self, index: I) -> Option<&T> {
        self.items.get(index.get())
    }

    /// The index of the first item that a test accepts.
    pub fn position(&self, accepts: impl FnMut(&T) -> bool) -> Option<I> {
        self.items.iter().position(accepts).map(I::new)
    }

    /// Appends an item; returns its index.
    pub fn push(&mut self, item: T) -> I {
        self.items.push(item);
        I::new(self.items.len() - 1)
    }

    /// The items of indices that follow one another.
    pub fn slice(&self, indices: &Indices<I>) -> &[T] {
        &self.items[indices.positions()]
    }

    /// Takes all items out.
    pub fn clear(&mut self) {
        self.items.clear();
    }

    /// One value for each item, in order.
    pub fn map<U>(&self, of: impl FnMut(&T) -> U) -> Indexed<I, U> {
        self.items.iter().map(of).collect()
    }
}

impl<I: Index, T> Default for Indexed<I, T> {
    fn default() -> Self {
        Self::new()
    }
}

impl<I, T: Clone> Clone for Indexed<I, T> {
    fn clone(&self) -> Self {
        Self {
            items: self.items.clone(),
            index: PhantomData,
        }
    }
}

impl<I, T: fmt::Debug> fmt::Debug for Indexed<I, T> {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.items.fmt(to)
    }
}

impl<I, T: PartialEq> PartialEq for Indexed<I, T> {
    fn eq(&self, other: &Self) -> bool {
        self.items == other.items
    }
}

impl<I, T> Deref for Indexed<I, T> {
    type Target = [T];

    fn deref(&self) -> &[T] {
        &self.items
    }
}

impl<I, T> DerefMut for Indexed<I, T> {
    fn deref_mut(&mut self) -> &mut [T] {
        &mut self.items
    }
}

impl<I: Index, T> std::ops::Index<I> for Indexed<I, T> {
    type Output = T;

    fn index(&self, index: I) -> &T {
        &self.items[index.get()]
    }
}

impl<I: Index, T> std::ops::IndexMut<I> for Indexed<I, T> {
    fn index_mut(&mut self, index: I) -> &mut T {
        &mut self.items[index.get()]
    }
}

impl<I, T> From<Vec<T>> for Indexed<I, T> {
    fn from(items: Vec<T>) -> Self {
        Self {
            items,
            index: PhantomData,
        }
    }
}

impl<I, T> FromIterator<T> for Indexed<I, T> {
    fn from_iter<A: IntoIterator<Item = T>>(items: A) -> Self {
        Vec::from_iter(items).into()
    }
}

impl<I, T> Extend<T> for Indexed<I, T> {
    fn extend<A: IntoIterator<Item = T>>(&mut self, items: A) {
        self.items.extend(items);
    }
}

impl<I, T> IntoIterator for Indexed<I, T> {
    type Item = T;
    type IntoIter = std::vec::IntoIter<T>;

    fn into_iter(self) -> Self::IntoIter {
        self.items.into_iter()
    }
}

impl<'a, I, T> IntoIterator for &'a Indexed<I, T> {
    type Item = &'a T;
    type IntoIter = std::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.items.iter()
    }
}

impl<'a, I, T> IntoIterator for &'a mut Indexed<I, T> {
    type Item = &'a mut T;
    type IntoIter = std::slice::IterMut<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.items.iter_mut()
    }
}

/// Indices that follow one another: as a range of positions, an iterator over them.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Indices<I> {
    positions: std::ops::Range<usize>,
    index: PhantomData<fn() -> I>,
}

impl<I: Index> Indices<I> {
    /// Those from one position up to, and without, another.
    pub const fn between(start: usize, end: usize) -> Self {
        Self {
            positions: start..end,
            index: PhantomData,
        }
    }

    /// One alone.
    pub fn only(index: I) -> Self {
        Self::between(index.get(), index.get() + 1)
    }

    /// The first `count` of a list.
    pub const fn first(count: usize) -> Self {
        Self::between(0, count)
    }

    /// The positions.
    pub fn positions(&self) -> std::ops::Range<usize> {
        self.positions.clone()
    }

    /// Whether an index is one of these.
    pub fn contains(&self, index: &I) -> bool {
        self.positions.contains(&index.get())
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.positions.is_empty()
    }

    /// The lowest; `None` where there is none.
    pub fn lowest(&self) -> Option<I> {
        self.clone().next()
    }

    /// The highest; `None` where there is none.
    pub fn highest(&self) -> Option<I> {
        self.clone().next_back()
    }
}

impl<I: Index> Iterator for Indices<I> {
    type Item = I;

    fn next(&mut self) -> Option<I> {
        self.positions.next().map(I::new)
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.positions.size_hint()
    }

    fn nth(&mut self, n: usize) -> Option<I> {
        self.positions.nth(n).map(I::new)
    }
}

impl<I: Index> DoubleEndedIterator for Indices<I> {
    fn next_back(&mut self) -> Option<I> {
        self.positions.next_back().map(I::new)
    }
}

impl<I: Index> ExactSizeIterator for Indices<I> {}

#[cfg(test)]
mod tests {
    use super::*;

    index!(
        /// Of a letter.
        LetterIndex
    );

    #[test]
    fn a_list_gives_out_the_indices_that_it_takes() {
        let mut letters: Indexed<LetterIndex, char> = "abc".chars().collect();
        let last = letters.push('d');
        assert_eq!((letters[last], last.get()), ('d', 3));
        assert_eq!(
            letters.position(|letter| *letter == 'b'),
            Some(LetterIndex::new(1))
        );
        assert!(letters.enumerate().all(|(i, letter)| letters[i] == *letter));
        assert!(letters.indices().eq(Indices::first(4)));
        assert_eq!(
            (
                letters[LetterIndex::FIRST],
                letters.get(LetterIndex::new(4))
            ),
            ('a', None)
        );
        letters[last] = 'e';
        assert_eq!(letters.map(char::to_ascii_uppercase).last(), Some(&'E'));
    }

    #[test]
    fn a_stretch_of_indices_is_counted_from_both_ends() {
        let mut stretch = Indices::<LetterIndex>::between(2, 5);
        assert!(stretch.contains(&LetterIndex::new(4)) && !stretch.contains(&LetterIndex::new(5)));
        assert_eq!((stretch.len(), stretch.lowest()), (3, stretch.next()));
        assert_eq!(stretch.highest(), Some(LetterIndex::new(4)));
        assert_eq!(stretch.next_back(), Some(LetterIndex::new(4)));
        assert_eq!(stretch.positions(), 3..4);
        assert!(stretch.nth(1).is_none() && stretch.is_empty());
    }
}
