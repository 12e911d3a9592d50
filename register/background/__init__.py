"""Work that takes longer than a request: started on a page, done by a worker, shown while it runs."""
