"""What the calls of the API share: tokens and scopes, paging, problems, entity tags, verdicts in plain form."""
