"""The tests; a package, so that ``tests.chat`` is this one and no installed library's."""
