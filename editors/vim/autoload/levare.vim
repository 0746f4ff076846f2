" The catalog of a file: the folder with the handbook, this one or one above it, else its own folder.
function! levare#Catalog(file) abort
  let l:folder = fnamemodify(a:file, ':p:h')
  let l:handbook = findfile('handbook.levare', escape(l:folder, ' ,;\') . ';')
  return l:handbook is# '' ? l:folder : fnamemodify(l:handbook, ':p:h')
endfunction
