//! bay
