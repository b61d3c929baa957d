"""The figures of the documents against what the commands beside them print."""
