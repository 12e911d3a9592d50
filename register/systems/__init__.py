"""Other systems that ask the register or write to it: each with a token of its own, in its own name."""
