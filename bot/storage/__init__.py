"""The books on disk: rows of one group to core's records and back; the only place that knows SQL."""
