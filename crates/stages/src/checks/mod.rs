//! Stage 8, checks: one rule a file, each with its doc, source, and tests that pass, fail and sit at the limit.
