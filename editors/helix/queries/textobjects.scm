(card) @class.around
(card (field)+ @class.inside)
(field) @function.around
(field (value) @function.inside)
(row) @parameter.around
(row (value) @parameter.inside)
(remark) @comment.around
