"""HTTP: routes that parse, call one action or one page, and render; who is signed in; errors."""
