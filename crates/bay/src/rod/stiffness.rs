//! Bending stiffness of a hose.
