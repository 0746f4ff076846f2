; In the names that Neovim, Helix and Zed share.
(kind) @keyword
(name) @markup.heading
(field_name) @property
(other_name) @variable.parameter
(row_name) @variable
(quoted) @string
(text) @string.special
(because) @keyword
(remark) @comment
(conflict_mark) @diff.minus
(range) @constant
(pitch) @constant
(key) @constant
[(number) (meter) (date) (time) (money) (measures)] @number
(keyword) @keyword.operator
(about) @keyword.modifier
(doubt) @operator
(comma) @punctuation.delimiter
