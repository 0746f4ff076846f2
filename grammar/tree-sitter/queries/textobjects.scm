; A card is the larger thing, a field the smaller; inside a card are its lines, inside a field its value.
(card) @class.outer
(card (field)+ @class.inner)
(field) @function.outer
(field (value) @function.inner)
(row) @parameter.outer
(row (value) @parameter.inner)
(remark) @comment.outer
