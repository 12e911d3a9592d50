"""The plants of a group: who sees which, and what belongs where. A firm with one plant never meets the word."""
