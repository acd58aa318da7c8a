//! The boat file: TOML with exact places in, a typed model and remarks out. Computes nothing.
//!
//! Reading order: [`model`] (what a boat is), [`keys`] (the one table of keys), [`read`] (text in),
//! [`remark`] and [`places`] (what is wrong, and where), [`arrange`] (one way of connecting her),
//! [`edit`] (a value changed, comments kept).
#![warn(missing_docs)]

pub mod arrange;
mod build;
mod check;
mod check_bay;
mod check_survey;
pub mod comment;
pub mod edit;
mod grammar;
pub mod keys;
mod like;
pub mod model;
pub mod places;
pub mod print;
mod raw;
pub mod read;
pub mod remark;
mod scan;
mod schema;
mod value;
mod walk;
pub mod words;

pub use arrange::Arranged;
pub use comment::comment_beside;
pub use edit::{EditError, quoted, quoted_list, remove_value, set_value};
pub use grammar::is_scan_file;
pub use keys::{instrument_of, key_reference};
pub use model::*;
pub use places::{
    Places, Position, joint_path, key_text, price_path, run_path, seen_path, spigot_path,
    thing_path,
};
pub use print::{chain_part_text, piece_text, size_text, thread_text, way_text};
pub use read::read;
pub use remark::{Code, Remark, Severity};
pub use schema::schema_json;
pub use words::Word;
