//! The boat file, from outside.
mod demo;
