"""What to test next: the fewest new test pieces that would cover the joints that nothing covers yet."""
