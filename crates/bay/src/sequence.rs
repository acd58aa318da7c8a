//! In which order hoses can be fitted, when each one's clips must be worked with the earlier ones in place.
//!
//! Taking apart is easier to think about than putting together: from the finished state any hose whose
//! clips are all reached may come out, and the order turned round is an order of fitting. Access only ever
//! grows when something is taken away, so it does not matter which one comes out first: where this sticks,
//! no order exists in this model, and what is left holds itself shut.

use std::collections::BTreeMap;

use crate::access::{Clip, Fineness, Obstacle, Tool, in_the_way, obstacles, own_beyond, reaches};
use crate::solid::{Shape, Space};

/// More hoses than this are refused.
pub const MOST: usize = 64;

/// A set of items by their numbers, 0 to 63.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Items(u64);

impl Items {
    /// The first `count` items.
    pub fn first(count: usize) -> Self {
        if count >= MOST {
            Self(u64::MAX)
        } else {
            Self((1 << count) - 1)
        }
    }

    /// Whether an item is in it.
    pub fn holds(self, item: usize) -> bool {
        item < MOST && self.0 >> item & 1 == 1
    }

    /// The set without an item.
    #[must_use]
    pub fn without(self, item: usize) -> Self {
        if item < MOST {
            Self(self.0 & !(1 << item))
        } else {
            self
        }
    }

    /// The set with an item.
    #[must_use]
    pub fn with(self, item: usize) -> Self {
        if item < MOST {
            Self(self.0 | 1 << item)
        } else {
            self
        }
    }

    /// Its items in order.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        (0..MOST).filter(move |item| self.holds(*item))
    }

    /// Whether it holds none.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Whether all of it is in `other`.
    pub fn is_in(self, other: Self) -> bool {
        self.0 & !other.0 == 0
    }
}

impl FromIterator<usize> for Items {
    fn from_iter<T: IntoIterator<Item = usize>>(items: T) -> Self {
        items.into_iter().fold(Self::default(), Self::with)
    }
}

/// What cannot be put in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SequenceError {
    /// Too many items.
    #[error("{0} hoses: an order is sought for at most {MOST}")]
    TooMany(usize),
}

/// What came of the search for one order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Order {
    /// An order in which everything can be fitted.
    Found(Vec<usize>),
    /// There is none.
    Stuck {
        /// A set of which no item can come out while the others of it are in; without any one of them
        /// all the others could.
        core: Vec<usize>,
        /// All that remains where nothing more can come out.
        left: Vec<usize>,
    },
}

/// Answers to "can item `i` be fitted with these in place", each asked once. What can be fitted among many
/// can be among fewer of them; what cannot among few cannot among more.
struct Asked<F> {
    can: F,
    yes: BTreeMap<usize, Vec<Items>>,
    no: BTreeMap<usize, Vec<Items>>,
}

impl<F: FnMut(usize, Items) -> bool> Asked<F> {
    fn new(can: F) -> Self {
        Self {
            can,
            yes: BTreeMap::new(),
            no: BTreeMap::new(),
        }
    }

    fn can(&mut self, item: usize, others: Items) -> bool {
        let (yes, no) = (
            self.yes.entry(item).or_default(),
            self.no.entry(item).or_default(),
        );
        if yes.iter().any(|known| others.is_in(*known)) {
            return true;
        }
        if no.iter().any(|known| known.is_in(others)) {
            return false;
        }
        let can = (self.can)(item, others);
        if can {
            yes.push(others);
        } else {
            no.push(others);
        }
        can
    }
}

fn checked(count: usize) -> Result<(), SequenceError> {
    if count > MOST {
        return Err(SequenceError::TooMany(count));
    }
    Ok(())
}

/// An order of fitting for `count` items, `can(item, others)` saying whether an item can be fitted while
/// exactly `others` are in. It must be monotone: with fewer others in it never turns from yes to no. Of
/// several that may come out next the last in the list does, so that the order keeps to the list where it
/// may.
///
/// # Errors
/// More items than [`MOST`].
pub fn order(count: usize, can: impl FnMut(usize, Items) -> bool) -> Result<Order, SequenceError> {
    checked(count)?;
    let mut asked = Asked::new(can);
    let mut left = Items::first(count);
    let mut out = Vec::with_capacity(count);
    while let Some(next) = free_of(left, &mut asked) {
        left = left.without(next);
        out.push(next);
    }
    if left.is_empty() {
        out.reverse();
        return Ok(Order::Found(out));
    }
    // Whatever holds without an item is a smaller core; in the smallest every item is needed.
    let mut core = left;
    let mut smaller = true;
    while smaller {
        smaller = false;
        for item in core.iter().collect::<Vec<usize>>() {
            let mut rest = core.without(item);
            while let Some(next) = free_of(rest, &mut asked) {
                rest = rest.without(next);
            }
            if !rest.is_empty() {
                core = rest;
                smaller = true;
                break;
            }
        }
    }
    Ok(Order::Stuck {
        core: core.iter().collect(),
        left: left.iter().collect(),
    })
}

/// The last of a set's items that can come out.
fn free_of(set: Items, asked: &mut Asked<impl FnMut(usize, Items) -> bool>) -> Option<usize> {
    let items: Vec<usize> = set.iter().collect();
    items
        .into_iter()
        .rev()
        .find(|item| asked.can(*item, set.without(*item)))
}

/// Orders, as many as were asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Orders {
    /// The orders, sorted.
    pub orders: Vec<Vec<usize>>,
    /// Whether there are more than that.
    pub more: bool,
}

/// Every order of fitting, at most `most` of them: see [`order`].
///
/// # Errors
/// More items than [`MOST`].
pub fn all_orders(
    count: usize,
    most: usize,
    can: impl FnMut(usize, Items) -> bool,
) -> Result<Orders, SequenceError> {
    checked(count)?;
    let mut search = Search {
        asked: Asked::new(can),
        all: Items::first(count),
        most,
        completable: BTreeMap::new(),
        found: Orders {
            orders: Vec::new(),
            more: false,
        },
    };
    search.go(Items::default(), &mut Vec::with_capacity(count));
    Ok(search.found)
}

struct Search<F> {
    asked: Asked<F>,
    all: Items,
    most: usize,
    /// Whether what is in can be completed, by what is in.
    completable: BTreeMap<Items, bool>,
    found: Orders,
}

impl<F: FnMut(usize, Items) -> bool> Search<F> {
    /// Fits on, after what is in.
    fn go(&mut self, inside: Items, so_far: &mut Vec<usize>) {
        if inside == self.all {
            if self.found.orders.len() < self.most {
                self.found.orders.push(so_far.clone());
            } else {
                self.found.more = true;
            }
            return;
        }
        if !self.completable(inside) {
            return;
        }
        for item in self.all.iter().filter(|item| !inside.holds(*item)) {
            if self.found.more {
                return;
            }
            if self.asked.can(item, inside) {
                so_far.push(item);
                self.go(inside.with(item), so_far);
                so_far.pop();
            }
        }
    }

    /// Whether all the rest can come out of the finished state, down to what is in: so no search runs
    /// into a dead end.
    fn completable(&mut self, inside: Items) -> bool {
        if let Some(known) = self.completable.get(&inside) {
            return *known;
        }
        let mut left = self.all;
        while left != inside {
            let next = left
                .iter()
                .filter(|item| !inside.holds(*item))
                .collect::<Vec<usize>>()
                .into_iter()
                .find(|item| self.asked.can(*item, left.without(*item)));
            match next {
                Some(item) => left = left.without(item),
                None => break,
            }
        }
        let can = left == inside;
        self.completable.insert(inside, can);
        can
    }
}

/// A hose that is to be fitted.
#[derive(Clone, Debug)]
pub struct Hose {
    /// Its name.
    pub name: String,
    /// Its body in place.
    pub shape: Shape,
    /// Its clips, tightened when it is fitted.
    pub clips: Vec<Clip>,
}

/// A clip that cannot be worked among the others, and which of them stand in the way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shut {
    /// The hose.
    pub hose: usize,
    /// The clip's place in its list.
    pub clip: usize,
    /// The hoses in the way; empty where something fixed is: then no order helps.
    pub by: Vec<usize>,
}

/// The fitting of hoses in a bay with tools.
#[derive(Clone, Copy, Debug)]
pub struct Fitting<'a> {
    /// What is there already.
    pub space: &'a Space,
    /// The hoses.
    pub hoses: &'a [Hose],
    /// The tools at hand: a clip is tightened with any of them that closes it.
    pub tools: &'a [Tool],
    /// How finely a clip is swept.
    pub fineness: Fineness,
}

impl Fitting<'_> {
    /// What stands about a clip: the bodies, what its own hose does farther along, and some of the hoses.
    /// Also how many of them are fixed for it.
    fn among<'s>(
        &'s self,
        own: usize,
        beyond: &'s [Shape],
        others: Items,
    ) -> (Vec<Obstacle<'s>>, usize) {
        // The clip's own hose is left out by its number: two hoses may share a name.
        let mut all = obstacles(self.space, [], "");
        let name = self.hoses.get(own).map_or("", |hose| hose.name.as_str());
        all.extend(beyond.iter().map(|shape| Obstacle { name, shape }));
        let fixed = all.len();
        let hoses = self
            .hoses
            .iter()
            .enumerate()
            .filter(|(n, _)| *n != own && others.holds(*n))
            .map(|(_, hose)| Obstacle {
                name: hose.name.as_str(),
                shape: &hose.shape,
            });
        all.extend(hoses);
        (all, fixed)
    }

    fn clips(&self, hose: usize) -> &[Clip] {
        self.hoses.get(hose).map_or(&[][..], |hose| &hose.clips)
    }

    fn beyond(&self, hose: usize, clip: &Clip) -> Vec<Shape> {
        let shape = self.hoses.get(hose).map(|hose| &hose.shape);
        shape.map_or_else(Vec::new, |shape| {
            own_beyond(shape, clip.frame.at(), clip.od)
        })
    }

    /// Whether all clips of a hose are reached with just `others` in.
    pub fn can(&self, hose: usize, others: Items) -> bool {
        self.clips(hose).iter().all(|clip| {
            let beyond = self.beyond(hose, clip);
            let (among, _) = self.among(hose, &beyond, others);
            reaches(clip, self.tools, &among, self.fineness)
        })
    }

    /// An order of fitting.
    ///
    /// # Errors
    /// More hoses than [`MOST`].
    pub fn order(&self) -> Result<Order, SequenceError> {
        order(self.hoses.len(), |hose, others| self.can(hose, others))
    }

    /// Every order of fitting, at most `most`.
    ///
    /// # Errors
    /// More hoses than [`MOST`].
    pub fn all_orders(&self, most: usize) -> Result<Orders, SequenceError> {
        all_orders(self.hoses.len(), most, |hose, others| {
            self.can(hose, others)
        })
    }

    /// The clips of a stuck set that are shut, and by which hoses of it.
    pub fn shut(&self, stuck: &[usize]) -> Vec<Shut> {
        let set: Items = stuck.iter().copied().collect();
        let mut found = Vec::new();
        for hose in set.iter() {
            let others = set.without(hose);
            let numbers: Vec<usize> = others.iter().filter(|n| *n < self.hoses.len()).collect();
            for (n, clip) in self.clips(hose).iter().enumerate() {
                let beyond = self.beyond(hose, clip);
                let (among, fixed) = self.among(hose, &beyond, others);
                if reaches(clip, self.tools, &among, self.fineness) {
                    continue;
                }
                let by = in_the_way(clip, self.tools, &among, fixed, self.fineness.step)
                    .into_iter()
                    .filter_map(|number| numbers.get(number.checked_sub(fixed)?).copied())
                    .collect();
                found.push(Shut { hose, clip: n, by });
            }
        }
        found
    }
}
