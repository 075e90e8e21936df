//! Lengths, areas, angles, mass, money, and the reason behind every number.
