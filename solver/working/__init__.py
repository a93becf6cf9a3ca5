"""A solution goes in; every figure with its formula, numbers and source comes out."""
