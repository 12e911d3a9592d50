"""What a translated sheet says of itself."""

TRANSLATED = (
    "Translated from the English sheet that was checked and approved; in doubt the English one counts. "
    "The authors' own words stand as they were written."
)
