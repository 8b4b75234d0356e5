"""Codes and numbers into sentences, in both unit systems and every language: the one place with prose."""
