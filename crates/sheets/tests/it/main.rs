//! Tests of what is drawn and printed.

mod around;
mod card;
mod doc;
mod fonts;
mod hose;
mod invented;
mod pdf_text;
mod sheets;
mod strip;
mod strip_level;
mod strip_lines;
