"""The pump maker's limit -> the floor at this site, fluid and speed."""
