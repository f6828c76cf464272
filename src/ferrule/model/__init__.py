"""The words of the trade as frozen types. Imports nothing else of ours."""
