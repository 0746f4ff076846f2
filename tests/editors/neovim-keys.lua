-- nvim --clean --headless -l neovim-keys.lua SETUP FOLDER EXPECTATIONS PROGRAM
--
-- Types whole pages into another Neovim as a director would, key by key, with the project's own setup and its
-- offers coming up by themselves, and compares what lies on the disk with what was typed. Nothing is pressed that
-- closes a list of offers. Prints one JSON object; leaves with 1 when anything differs.

local setup, folder, expectations, program = unpack(arg)
local want = vim.json.decode(table.concat(vim.fn.readfile(expectations), '\n'))
local seen, wrong = { typed = {} }, {}

local function differs(what, expected, got)
  wrong[#wrong + 1] = { what = what, expected = expected, got = got }
end

-- What is compared: the depth of every line and its words.
local function plain(lines)
  local all = vim.tbl_map(function(line)
    local depth, words = line:match('^(%s*)(.-)%s*$')
    return words == '' and '' or depth .. words:gsub('%s+', ' ')
  end, lines)
  while all[#all] == '' do
    all[#all] = nil
  end
  return all
end

local names = { ArrowLeft = '<Left>', ArrowRight = '<Right>', End = '<End>', Backspace = '<BS>', Tab = '<Tab>' }

local function keys_of(line)
  local keys = {}
  while line ~= '' do
    local name = line:match('^{(%a+)}')
    if name then
      keys[#keys + 1] = assert(names[name], name)
      line = line:sub(#name + 3)
    else
      local key = vim.fn.strcharpart(line, 0, 1)
      keys[#keys + 1] = key == '<' and '<lt>' or key
      line = line:sub(#key + 1)
    end
  end
  return keys
end

local function run()
  local child = vim.fn.jobstart({ vim.v.progpath, '--clean', '--embed', '--headless' }, { rpc = true })
  local function ask(...)
    return vim.rpcrequest(child, ...)
  end
  ask(
    'nvim_exec_lua',
    [[
    local setup, program = ...
    dofile(setup)
    vim.lsp.config('levare', { cmd = { program, 'desk' } })
    -- How often offers came up at all: a test without any would prove nothing.
    vim.g.offers = 0
    vim.api.nvim_create_autocmd('CompleteChanged', { callback = function() vim.g.offers = vim.g.offers + 1 end })
  ]],
    { setup, program }
  )
  for _, delay in ipairs(want.delays) do
    for _, page in ipairs(want.pages) do
      local path = vim.fs.joinpath(folder, page.file)
      ask('nvim_command', 'edit! ' .. vim.fn.fnameescape(path))
      local attached = vim.wait(20000, function()
        return ask('nvim_exec_lua', [[return #vim.lsp.get_clients({ name = 'levare', bufnr = 0 })]], {}) > 0
      end, 50)
      if not attached then
        return differs('the proofreader', 'attached', 'nothing attached')
      end
      ask('nvim_input', 'ggdGi')
      for at, line in ipairs(page.keys) do
        for _, key in ipairs(vim.list_extend(at > 1 and { '<CR>' } or {}, keys_of(line))) do
          ask('nvim_input', key)
          vim.wait(delay)
        end
      end
      -- Leaving what is typed is how it is saved here; no list is closed by it before the last key.
      ask('nvim_input', '<Esc>')
      vim.wait(300)
      ask('nvim_command', 'write')
      local got = plain(vim.fn.readfile(path))
      seen.typed[#seen.typed + 1] = { delay = delay, file = page.file, got = got }
      if not vim.deep_equal(got, page.text) then
        differs(page.file .. ' typed at ' .. delay .. ' ms a key', page.text, got)
      end
    end
  end
  seen.offers = ask('nvim_get_var', 'offers')
  if seen.offers == 0 then
    differs('offers', 'some', 'none came up')
  end
  vim.rpcnotify(child, 'nvim_command', 'qall!')
end

local ran, problem = xpcall(run, debug.traceback)
if not ran then
  differs('driver', 'no error', problem)
end
io.stdout:write(vim.json.encode({ seen = seen, wrong = wrong }), '\n')
io.stdout:flush()
os.exit(#wrong == 0 and 0 or 1)
