" Colors for cards.
if exists('b:current_syntax')
  finish
endif
syntax case ignore
syntax match levareField /^\s\+\zs\a[[:alpha:].-]*\%( [[:alpha:].]\+\)\?\ze\%(\s\s\|\t\|$\)/
syntax match levareField /^ \{1,3}\zs\a[[:alpha:].-]*\ze \S/
syntax match levareKind /^\%(ensemble\|piece\|concert\|criteria\|bundle\|list\|skill\|instrument\)\ze\s*["“]/ nextgroup=levareName skipwhite
syntax match levareKind /^handbook\ze\s*\%($\|(\)/
syntax match levareName /["“„«][^"“”„«»]*["”»]\?/ contained
syntax match levareQuoted /["“„«][^"“”„«»]*["”»]\?/
syntax match levareStet /^\s\+\zsstet\>/
syntax match levareBecause /\<because\>.*/ contains=levareBecauseWord
syntax match levareBecauseWord /\<because\>/ contained
syntax match levareFigure /\<\d[0-9:.\/-]*\>/
syntax case match
syntax match levarePitch /\<[A-G][b#♭♯]\?\d\>/
syntax match levareDoubt /?\ze\%(\s\|,\|(\|$\)/
syntax region levareRemark start=/(/ end=/)\|$/ contains=levareRemark oneline
" What is written here is text: figures and parentheses mean nothing in it.
syntax match levareText /^\s\+\%(notes\?\|learned\|see\)\s.*/ contains=levareTextField
syntax match levareTextField /^\s\+\zs\%(notes\?\|learned\|see\)\>/ contained
syntax match levareConflict /^\%(<<<<<<<\|=======\|>>>>>>>\||||||||\)\%( .*\)\?$/

highlight default link levareKind Statement
highlight default link levareName Title
highlight default link levareField Identifier
highlight default link levareTextField Identifier
highlight default link levareQuoted String
highlight default link levareStet Statement
highlight default link levareBecauseWord Statement
highlight default link levareFigure Number
highlight default link levarePitch Constant
highlight default link levareDoubt Special
highlight default link levareRemark Comment
highlight default link levareConflict Error
let b:current_syntax = 'levare'
