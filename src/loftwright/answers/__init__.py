"""One project through the domains, and the results as rows and series that are ready to show."""
