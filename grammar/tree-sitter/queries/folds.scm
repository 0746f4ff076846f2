[(card) (field) (row)] @fold
