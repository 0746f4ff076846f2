-- Levare in Neovim 0.11 and later. Paste this into init.lua.
vim.filetype.add({ extension = { levare = 'levare' } })

vim.api.nvim_create_autocmd('FileType', {
  pattern = 'levare',
  callback = function(event)
    local set = vim.bo[event.buf]
    set.expandtab, set.shiftwidth, set.softtabstop, set.autoindent = true, 2, 2, true
    set.commentstring = '(%s)'
  end,
})

vim.lsp.config('levare', {
  cmd = { 'levare', 'desk' },
  filetypes = { 'levare' },
  root_markers = { 'handbook.levare' },
})
vim.lsp.enable('levare')

-- What fits here comes up while you write. Nothing is taken that you did not choose: Enter makes a line.
vim.api.nvim_create_autocmd('LspAttach', {
  callback = function(event)
    local client = vim.lsp.get_client_by_id(event.data.client_id)
    if client and client.name == 'levare' then
      vim.bo[event.buf].completeopt = 'menuone,noselect,popup'
      vim.lsp.completion.enable(true, client.id, event.buf, { autotrigger = true })
    end
  end,
})

-- Neovim shows no words beside a mark unless it is told to.
vim.diagnostic.config({ virtual_text = true })
