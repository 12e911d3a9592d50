"""In which units somebody reads figures: kept with the account, changed for a session by `?units=`."""
