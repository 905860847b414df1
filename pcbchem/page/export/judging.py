def for_copy(q):
    return {"key": q.key}
