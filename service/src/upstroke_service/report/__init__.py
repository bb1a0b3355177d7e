"""The report of a sizing: the same content as a page for browsers and as a PDF for printing."""
