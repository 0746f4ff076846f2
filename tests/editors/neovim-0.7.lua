-- nvim --clean --headless -c 'luafile neovim-0.7.lua'
--
-- The short form of neovim.lua for the oldest Neovim that the setup is written for, which takes
-- no arguments after a script: LEVARE_SETUP, LEVARE_FOLDER, LEVARE_EXPECTATIONS and LEVARE (the
-- program) say what to do. Checks the marks and the hover. Prints one JSON object.

local env = vim.env
local want = vim.json.decode(table.concat(vim.fn.readfile(env.LEVARE_EXPECTATIONS), '\n'))
local seen, wrong = { version = vim.version().major .. '.' .. vim.version().minor }, {}
local severities = { 'error', 'warning', 'information', 'hint' }

local function differs(what, expected, got)
  wrong[#wrong + 1] = { what = what, expected = expected, got = got }
end

local function column(lnum, byte)
  local text = vim.api.nvim_buf_get_lines(0, lnum, lnum + 1, false)[1] or ''
  return vim.str_utfindex(text, math.min(byte, #text)) + 1
end

local function run()
  -- The setup names the program plainly, so it must be found by that name.
  env.PATH = vim.fn.fnamemodify(env.LEVARE, ':h') .. ':' .. env.PATH
  dofile(env.LEVARE_SETUP)
  vim.cmd('edit ' .. vim.fn.fnameescape(env.LEVARE_FOLDER .. '/' .. want.file))
  if vim.bo.filetype ~= 'levare' then
    return differs('filetype', 'levare', vim.bo.filetype)
  end
  vim.wait(20000, function() return #vim.diagnostic.get(0) >= #want.marks and #want.marks > 0 end, 10)
  local found = vim.diagnostic.get(0)
  table.sort(found, function(a, b) return a.lnum < b.lnum or a.lnum == b.lnum and a.col < b.col end)
  seen.marks = {}
  for i, d in ipairs(found) do
    seen.marks[i] = {
      line = d.lnum + 1,
      from = column(d.lnum, d.col),
      to = column(d.end_lnum, d.end_col),
      severity = severities[d.severity],
    }
  end
  if #found ~= #want.marks then
    differs('marks: how many', #want.marks, #found)
  end
  for i, e in ipairs(want.marks) do
    for _, key in ipairs({ 'line', 'from', 'to', 'severity' }) do
      local got = seen.marks[i] and seen.marks[i][key]
      if e[key] ~= nil and e[key] ~= got then
        differs(('mark %d: %s'):format(i, key), e[key], got or 'nothing')
      end
    end
  end
  if want.hover then
    local text = vim.api.nvim_buf_get_lines(0, want.hover.line - 1, want.hover.line, false)[1]
    vim.api.nvim_win_set_cursor(0, { want.hover.line, vim.str_byteindex(text, want.hover.column - 1) })
    vim.lsp.buf.hover()
    vim.wait(20000, function() return #vim.api.nvim_list_wins() > 1 end, 10)
    for _, window in ipairs(vim.api.nvim_list_wins()) do
      if vim.api.nvim_win_get_config(window).relative ~= '' then
        local shown = vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(window), 0, -1, false)
        seen.hover = table.concat(shown, '\n')
      end
    end
    for _, words in ipairs(want.hover.holds) do
      if not (seen.hover or ''):find(words, 1, true) then
        differs('hover', words, seen.hover or 'nothing opened')
      end
    end
  end
end

local ok, problem = xpcall(run, debug.traceback)
if not ok then
  differs('driver', 'no error', problem)
end
io.stdout:write(vim.json.encode({ seen = seen, wrong = wrong }), '\n')
vim.lsp.stop_client(vim.lsp.get_active_clients())
vim.cmd(#wrong == 0 and 'qall!' or 'cquit 1')
