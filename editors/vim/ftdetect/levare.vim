autocmd BufNewFile,BufRead *.levare setfiletype levare
