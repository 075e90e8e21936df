//! Named figures: the unit's own exception, else its recipe's, else the handbook's.
