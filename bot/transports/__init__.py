"""Transports: each receives messages and shows posts, and knows nothing of pencils."""
