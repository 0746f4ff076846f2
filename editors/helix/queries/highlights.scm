(kind) @keyword
(name) @markup.heading
(field_name) @type
(other_name) @variable.parameter
(row_name) @variable
(quoted) @string
(because) @keyword
(remark) @comment
(conflict_mark) @diff.minus
[(range) (pitch) (key)] @constant
[(number) (meter) (date) (time) (money) (measures)] @constant.numeric
(keyword) @keyword.operator
(doubt) @special
(comma) @punctuation.delimiter
