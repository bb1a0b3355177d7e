"""Tables: the facts of a site a row in, a sizing a row out, however many rows there are."""
