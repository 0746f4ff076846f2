-- nvim --clean --headless -l neovim.lua SETUP FOLDER EXPECTATIONS PROGRAM
--
-- Opens a card in Neovim with the project's own setup, waits for what the proofreader marks,
-- asks for a hover, completions, a change and a clean copy, and compares everything with the
-- expectations (see README.md). Prints one JSON object; leaves with 1 when anything differs.

local setup, folder, expectations, program = unpack(arg)
local want = vim.json.decode(table.concat(vim.fn.readfile(expectations), '\n'))
local seen, wrong = {}, {}

local severities = { 'error', 'warning', 'information', 'hint' }

-- A server that answers at all answers within this many milliseconds, also on a busy machine.
local patience = 20000

local function differs(what, expected, got)
  wrong[#wrong + 1] = { what = what, expected = expected, got = got }
end

local function wait(condition)
  return vim.wait(patience, condition, 10)
end

local function lines()
  return vim.api.nvim_buf_get_lines(0, 0, -1, false)
end

-- Neovim counts columns in bytes from 0; people count characters from 1.
local function column(lnum, byte)
  local text = vim.api.nvim_buf_get_lines(0, lnum, lnum + 1, false)[1] or ''
  return vim.str_utfindex(text, 'utf-32', math.min(byte, #text)) + 1
end

local function place(at)
  local text = lines()[at.line] or ''
  return { at.line, vim.str_byteindex(text, 'utf-32', at.column - 1) }
end

local function go(at)
  vim.api.nvim_win_set_cursor(0, place(at))
end

local function marks()
  local all = vim.tbl_map(function(d)
    return {
      line = d.lnum + 1,
      from = column(d.lnum, d.col),
      to_line = d.end_lnum + 1,
      to = column(d.end_lnum, d.end_col),
      severity = severities[d.severity],
      code = d.code,
      source = d.source,
      message = d.message,
    }
  end, vim.diagnostic.get(0))
  table.sort(all, function(a, b)
    return a.line < b.line or a.line == b.line and a.from < b.from
  end)
  return all
end

-- Every expected mark is there with exactly its columns, and no other mark is.
local function same_marks(what, expected, got)
  if #expected ~= #got then
    return differs(what .. ': how many', #expected, #got)
  end
  for i, e in ipairs(expected) do
    local g = got[i]
    for _, key in ipairs({ 'line', 'from', 'to', 'severity', 'code' }) do
      if e[key] ~= nil and e[key] ~= g[key] then
        differs(('%s %d: %s'):format(what, i, key), e[key], g[key])
      end
    end
    if (e.to_line or e.line) ~= g.to_line then
      differs(('%s %d: to_line'):format(what, i), e.to_line or e.line, g.to_line)
    end
    for _, words in ipairs(e.says or {}) do
      if not g.message:find(words, 1, true) then
        differs(('%s %d: says'):format(what, i), words, g.message)
      end
    end
  end
end

local function holds(what, expected, text)
  for _, words in ipairs(expected) do
    if not text:find(words, 1, true) then
      differs(what, words, text)
    end
  end
end

local function same_lines(what, expected)
  for number, text in pairs(expected or {}) do
    local got = lines()[tonumber(number)]
    if got ~= text then
      differs(('%s: line %s'):format(what, number), text, got)
    end
  end
end

local function floating()
  for _, window in ipairs(vim.api.nvim_list_wins()) do
    if vim.api.nvim_win_get_config(window).relative ~= '' then
      return window
    end
  end
end

local function run()
  -- Without a screen a question would end the script as if all were well.
  vim.ui.select = function(choices)
    differs('a question was asked', 'none', choices)
  end
  dofile(setup)
  vim.lsp.config('levare', { cmd = { program, 'desk' } })
  vim.cmd.edit(vim.fs.joinpath(folder, want.file))
  seen.filetype = vim.bo.filetype
  if seen.filetype ~= 'levare' then
    return differs('filetype', 'levare', seen.filetype)
  end
  local function client()
    return vim.lsp.get_clients({ name = 'levare', bufnr = 0 })[1]
  end
  if not wait(function() return client() ~= nil end) then
    return differs('the proofreader', 'attached', 'nothing attached')
  end
  local server = client()
  seen.server, seen.encoding = server.server_info, server.offset_encoding
  if server.root_dir ~= vim.uv.fs_realpath(folder) then
    differs('catalog', folder, server.root_dir)
  end

  wait(function() return #vim.diagnostic.get(0) >= #want.marks and #want.marks > 0 end)
  seen.marks = marks()
  same_marks('mark', want.marks, seen.marks)

  if want.hover then
    go(want.hover)
    vim.lsp.buf.hover()
    if wait(function() return floating() ~= nil end) then
      local text = vim.api.nvim_buf_get_lines(vim.api.nvim_win_get_buf(floating()), 0, -1, false)
      seen.hover = table.concat(text, '\n')
      vim.api.nvim_win_close(floating(), true)
      holds('hover', want.hover.holds, seen.hover)
    else
      differs('hover', want.hover.holds, 'nothing opened')
    end
  end

  if want.suggest then
    go(want.suggest)
    local at = vim.lsp.util.make_position_params(0, server.offset_encoding)
    local answer = server:request_sync('textDocument/completion', at, patience, 0)
    local items = answer and answer.result and (answer.result.items or answer.result) or {}
    seen.suggest = vim.tbl_map(function(item) return item.label end, items)
    for _, label in ipairs(want.suggest.holds) do
      if not vim.tbl_contains(seen.suggest, label) then
        differs('suggest', label, seen.suggest)
      end
    end
  end

  if want.fix then
    go(want.fix)
    local before = vim.api.nvim_buf_get_changedtick(0)
    seen.offered = {}
    local taken = false
    vim.lsp.buf.code_action({
      apply = true,
      filter = function(action)
        table.insert(seen.offered, action.title)
        local first = action.title == want.fix.title and not taken
        taken = taken or first
        return first
      end,
    })
    if wait(function() return vim.api.nvim_buf_get_changedtick(0) ~= before end) then
      seen.after_fix = lines()
      same_lines('fix', want.fix.lines)
      if want.fix.marks then
        wait(function() return #vim.diagnostic.get(0) == #want.fix.marks end)
        same_marks('mark after the fix', want.fix.marks, marks())
      end
    else
      differs('fix', want.fix.title, seen.offered)
    end
  end

  if want.recopy then
    wait(function() return server:supports_method('textDocument/formatting', 0) end)
    vim.lsp.buf.format({ async = false, timeout_ms = patience })
    seen.after_recopy = lines()
    same_lines('recopy', want.recopy.lines)
  end

  server:stop()
  if not wait(function() return server:is_stopped() end) then
    differs('stop', 'the proofreader leaves when asked', 'it stayed')
  end
end

local ok, problem = xpcall(run, debug.traceback)
if not ok then
  differs('driver', 'no error', problem)
end
io.stdout:write(vim.json.encode({ seen = seen, wrong = wrong }), '\n')
os.exit(#wrong == 0 and 0 or 1)
