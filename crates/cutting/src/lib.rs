//! Domain-free solvers for sheets and lengths, their bounds, and an independent verifier.
