"""The web page: the use cases over HTTP, and what the browser shows of them."""
