(kind) @keyword
(name) @title
(field_name) @property
(other_name) @variable.special
(row_name) @variable
(quoted) @string
(because) @keyword
(remark) @comment
[(range) (pitch) (key)] @constant
[(number) (meter) (date) (time) (money) (measures)] @number
(keyword) @operator
(doubt) @punctuation.special
(comma) @punctuation.delimiter
