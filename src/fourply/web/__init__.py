"""The shop in a browser and for programs: one documented API, and pages that stand on it.

Lives here: the app and what guards it, the routes of the API, the pages with their templates and static files.
May import: `app`, settings, value types of the pure rooms; FastAPI, Starlette, uvicorn, Jinja2, pydantic.
Never here: a rule of the trade, arithmetic on lengths, SQL, the store, the command line.
Tested by: every route through a test client; requests made from the API's own description; a server that is stopped.
"""
