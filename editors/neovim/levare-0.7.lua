-- Levare in Neovim 0.7 to 0.10. Paste this into init.lua (or save it and `luafile` it).
vim.api.nvim_create_autocmd({ 'BufRead', 'BufNewFile' }, {
  pattern = '*.levare',
  callback = function()
    vim.bo.filetype = 'levare'
  end,
})

-- The catalog is the folder that holds handbook.levare, this one or one above it.
local function catalog(file)
  local folder = vim.fn.fnamemodify(file, ':p:h')
  local handbook = vim.fn.findfile('handbook.levare', vim.fn.fnameescape(folder) .. ';')
  return handbook ~= '' and vim.fn.fnamemodify(handbook, ':p:h') or folder
end

local clients = {}

vim.api.nvim_create_autocmd('FileType', {
  pattern = 'levare',
  callback = function()
    local buffer = vim.api.nvim_get_current_buf()
    local set = vim.bo[buffer]
    set.expandtab, set.shiftwidth, set.softtabstop, set.autoindent = true, 2, 2, true
    set.commentstring = '(%s)'

    local root = catalog(vim.api.nvim_buf_get_name(buffer))
    if not clients[root] then
      clients[root] = vim.lsp.start_client({
        name = 'levare',
        cmd = { 'levare', 'desk' },
        root_dir = root,
        workspace_folders = { { uri = vim.uri_from_fname(root), name = root } },
        on_exit = function()
          clients[root] = nil
        end,
      })
    end
    if not clients[root] then
      return
    end
    vim.lsp.buf_attach_client(buffer, clients[root])

    -- These versions of Neovim give a language server no keys of its own.
    set.omnifunc = 'v:lua.vim.lsp.omnifunc'
    local function key(keys, act)
      vim.keymap.set('n', keys, act, { buffer = buffer })
    end
    key('K', vim.lsp.buf.hover)
    key('gd', vim.lsp.buf.definition)
    key('gra', vim.lsp.buf.code_action)
    key('grn', vim.lsp.buf.rename)
    key('grr', vim.lsp.buf.references)
    key('gq', function()
      (vim.lsp.buf.format or vim.lsp.buf.formatting)()
    end)
  end,
})
