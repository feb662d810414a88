"""The pages that people see; each stands on the same use cases as the API."""
