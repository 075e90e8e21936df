//! The road from the plan to the findings, one module a stage, in reading order.
