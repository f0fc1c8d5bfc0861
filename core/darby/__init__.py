"""Darby reads a finishes specification, measures, and works out what to order."""

DARBY_API = 1
