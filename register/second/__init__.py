"""The second factor: a code that changes every thirty seconds, from a program on the owner's telephone."""
