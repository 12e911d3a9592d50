"""Pages of the calculations: a form from the inputs of `codes.calc.registry`, the answer while one types, a sheet."""
