" The proofreader for ALE. ALE finds this file by itself when this folder is in 'runtimepath'.
let g:ale_levare_program = get(g:, 'ale_levare_program', 'levare')

call ale#linter#Define('levare', {
\   'name': 'levare',
\   'lsp': 'stdio',
\   'language': 'levare',
\   'executable': {buffer -> ale#Var(buffer, 'levare_program')},
\   'command': '%e desk',
\   'project_root': {buffer -> levare#Catalog(bufname(buffer))},
\})
