"""What the codes and the judges say, in the language of the screen: found in their source, told where it is shown."""

from register.judged_words.told import told, told_term, told_within

__all__ = ["told", "told_term", "told_within"]
