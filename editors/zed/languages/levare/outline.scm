(card (head (kind) @context (name)? @name)) @item
