"""What the coming weeks change: when joints lose or gain somebody, whom they hang on, what a withdrawal touches."""
