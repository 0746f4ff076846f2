; A card's fields, and what hangs under a field or a row, stand one step to the right.
[(card) (field) (row)] @indent.begin
