//! Numbers in, numbers out: knows no boat and no verdict.
