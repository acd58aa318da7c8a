//! The outside view of `quantity`: what is read, what is refused and how, what is printed.

mod doc_facts;
mod docs;
mod intervals;
mod messages;
mod printing;
mod reading;
mod round_trip;
mod sizes;
mod types;
mod units;
mod validation;
