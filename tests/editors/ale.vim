" Opens a card in Vim with ALE and writes what it shows as JSON, to be compared by seen.mjs.
" Run by `run`; LEVARE_FILE, LEVARE_EXPECTATIONS and LEVARE_SEEN say what to open, what is wanted and where to write.
let s:want = json_decode(join(readfile($LEVARE_EXPECTATIONS), "\n"))
" This ALE cannot ask for a clean copy, and its suggestions come only while somebody types at a screen.
" It takes the columns of the protocol for bytes, which holds for ASCII alone.
let s:seen = {'cannot': ['recopy', 'suggest'], 'miscounts': 'beyond ASCII'}

function! s:Wait(condition) abort
  for l:i in range(400)
    if a:condition()
      return 1
    endif
    sleep 50m
  endfor
  return 0
endfunction

" ALE counts bytes from 1 and its end_col is the last byte marked; people count characters.
function! s:Column(line, byte) abort
  return strchars(strpart(getline(a:line), 0, a:byte - 1)) + 1
endfunction

function! s:Marks() abort
  let l:names = {'E': 'error', 'W': 'warning', 'I': 'information'}
  let l:marks = []
  for l:mark in ale#engine#GetLoclist(bufnr(''))
    let l:last = get(l:mark, 'end_lnum', l:mark.lnum)
    let l:end = get(l:mark, 'end_col', l:mark.col)
    call add(l:marks, {
    \   'line': l:mark.lnum, 'from': s:Column(l:mark.lnum, l:mark.col), 'to_line': l:last,
    \   'to': s:Column(l:last, l:end) + 1, 'severity': get(l:names, l:mark.type, l:mark.type),
    \   'code': get(l:mark, 'code', ''), 'message': get(l:mark, 'detail', l:mark.text),
    \})
  endfor
  return sort(l:marks, {a, b -> a.line == b.line ? a.from - b.from : a.line - b.line})
endfunction

function! s:Go(at) abort
  call cursor(a:at.line, byteidx(getline(a:at.line), a:at.column - 1) + 1)
endfunction

function! s:Preview() abort
  for l:window in range(1, winnr('$'))
    if getwinvar(l:window, '&previewwindow')
      return join(getbufline(winbufnr(l:window), 1, '$'), "\n")
    endif
  endfor
  return ''
endfunction

function! s:Drive() abort
  execute 'edit ' . fnameescape($LEVARE_FILE)
  let s:seen.page = getline(1, '$')
  let s:seen.language = &filetype
  let s:seen.colored = synIDattr(synID(1, 1, 1), 'name')
  if s:seen.colored isnot# 'levareKind'
    let s:seen.problem = 'the first word has the color of ' . string(s:seen.colored)
    return
  endif
  ALELint
  call s:Wait({-> len(ale#engine#GetLoclist(bufnr(''))) == len(s:want.marks)})
  let s:seen.marks = s:Marks()
  let s:seen.active = !empty(s:seen.marks)
  if has_key(s:want, 'hover')
    call s:Go(s:want.hover)
    ALEHover
    call s:Wait({-> s:Preview() isnot# ''})
    let s:seen.hover = s:Preview()
    pclose
  endif
  if has_key(s:want, 'fix')
    " ALE asks which change is wanted with a numbered list; this answers with the one that is expected.
    runtime autoload/ale/util.vim
    function! ale#util#Input(message, value, ...) abort
      let s:seen.offered = []
      let l:number = ''
      for l:line in split(a:message, "\n")
        let l:title = matchstr(l:line, '^\d\+[):.]\s*\zs.*')
        if l:title isnot# ''
          call add(s:seen.offered, l:title)
        endif
        if l:title is# s:want.fix.title
          let l:number = matchstr(l:line, '^\d\+')
        endif
      endfor
      return l:number
    endfunction
    call s:Go(s:want.fix)
    let l:before = getline(1, '$')
    ALECodeAction
    call s:Wait({-> getline(1, '$') != l:before})
    let s:seen.after_fix = getline(1, '$')
    ALELint
    call s:Wait({-> len(ale#engine#GetLoclist(bufnr(''))) == len(s:want.fix.marks)})
    let s:seen.marks_after_fix = s:Marks()
  endif
endfunction

try
  call s:Drive()
catch
  let s:seen.problem = v:exception . ' at ' . v:throwpoint
endtry
call writefile([json_encode(s:seen)], $LEVARE_SEEN)
qall!
