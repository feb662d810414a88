"""The command line: parse, call one use case, show.

Lives here:   the commands, how results and faults look in a terminal, exit codes.
May import:   app, settings, value types of the pure rooms and files; a command imports what it needs when called.
Never here:   a rule of the trade, arithmetic on lengths, the web, the store.
Tested by:    whole commands on real files, their output and exit codes.
"""
