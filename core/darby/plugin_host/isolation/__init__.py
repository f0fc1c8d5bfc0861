"""A plugin from outside, kept in a process of its own.

`child` starts the process, bounds it and speaks with it; what goes in is sent by `sending`, what comes out is plain data, checked by
`plain` and `workings`. `inside` is the end of the line in the child, `guest` the one in Darby, where stand-ins take the place of what the
plugin registered.
"""
