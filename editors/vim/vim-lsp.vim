" Levare in Vim with the plugin vim-lsp. Paste this into your vimrc.
if executable('levare')
  autocmd User lsp_setup call lsp#register_server({
        \ 'name': 'levare',
        \ 'cmd': {info -> ['levare', 'desk']},
        \ 'root_uri': {info -> lsp#utils#path_to_uri(lsp#utils#find_nearest_parent_file_directory(
        \   lsp#utils#get_buffer_path(), ['handbook.levare']))},
        \ 'allowlist': ['levare'],
        \ })
endif
