" How cards are typed in Vim.
if exists('b:did_ftplugin')
  finish
endif
let b:did_ftplugin = 1
setlocal expandtab shiftwidth=2 softtabstop=2 autoindent
setlocal commentstring=(%s) comments= iskeyword+=-,#
let b:undo_ftplugin = 'setlocal expandtab< shiftwidth< softtabstop< autoindent< commentstring< comments< iskeyword<'
