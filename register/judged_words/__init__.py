"""What the codes and the judges say, in the language of the screen: found in their source, told where it is shown."""

from register.judged_words.told import below_zero, told, told_term, told_within

__all__ = ["below_zero", "told", "told_term", "told_within"]
