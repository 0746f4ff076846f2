[(card) (field) (row)] @indent
