-- Starts the language server in this neovim, asks it what a person would, and writes the answers to said.json.
local folder = os.getenv('COUPLET_FOLDER')
local site = folder .. '/tidewater-mill/site.couplet'
local said = { errors = {}, findings = {}, completion = {}, fixes = {}, renamed = {} }

local function finish()
  local file = io.open(folder .. '/said.json', 'w')
  file:write(vim.json.encode(said))
  file:close()
  vim.cmd('qall!')
end

local function work()
  vim.cmd('edit ' .. site)
  local client = vim.lsp.start_client({
    name = 'couplet',
    cmd = { os.getenv('COUPLET_NODE'), os.getenv('COUPLET_SERVER'), '--stdio' },
    root_dir = folder,
    workspace_folders = { { uri = vim.uri_from_fname(folder), name = 'site' } },
    get_language_id = function() return 'couplet' end,
    on_error = function(code, err) table.insert(said.errors, tostring(code) .. ' ' .. tostring(err)) end,
  })
  vim.lsp.buf_attach_client(0, client)
  vim.wait(20000, function() return vim.lsp.buf_get_clients(0)[client] ~= nil end)

  local function ask(method, params)
    local answers = vim.lsp.buf_request_sync(0, method, params, 20000)
    for _, answer in pairs(answers or {}) do return answer.result end
  end
  -- Line and column count from zero.
  local function at(words, into)
    for number, line in ipairs(vim.api.nvim_buf_get_lines(0, 0, -1, false)) do
      local start = line:find(words, 1, true)
      if start then return { line = number - 1, character = start - 1 + into } end
    end
    error('not there: ' .. words)
  end
  local document = { uri = vim.uri_from_fname(site) }
  local function has(code)
    for _, each in ipairs(vim.diagnostic.get(0)) do
      if each.user_data and each.user_data.lsp.code == code or each.code == code then return true end
    end
    return false
  end
  local function replace(from, to)
    local place = at(from, 0)
    vim.api.nvim_buf_set_text(0, place.line, place.character, place.line, place.character + #from, { to })
  end

  local hover = ask('textDocument/hover', { textDocument = document, position = at('load P1', 5) })
  said.hover = hover.contents.value

  replace('works: 10 V', 'works: 13 V')
  vim.wait(20000, function() return has('load-undervoltage') end)
  for _, each in ipairs(vim.diagnostic.get(0)) do
    table.insert(said.findings, each.user_data and each.user_data.lsp.code or each.code)
  end
  replace('works: 13 V', 'works: 10 V')
  vim.wait(20000, function() return not has('load-undervoltage') end)

  replace('wire level.V12 -- P1', 'wire level.v12 -- P1')
  vim.wait(20000, function() return has('name-unknown') end)
  local place = at('level.v12', 6)
  local actions = ask('textDocument/codeAction', {
    textDocument = document,
    range = { start = place, ['end'] = place },
    context = { diagnostics = {} },
  })
  for _, action in ipairs(actions) do table.insert(said.fixes, action.title) end
  vim.lsp.util.apply_workspace_edit(actions[1].edit, 'utf-16')
  said.mended = vim.api.nvim_buf_get_lines(0, place.line, place.line + 1, false)[1]

  local renamed = ask('textDocument/rename', {
    textDocument = document,
    position = at('SignalRelay12', 2),
    newName = 'HoldingRelay',
  })
  for uri in pairs(renamed.changes) do table.insert(said.renamed, (uri:gsub('.*/', ''))) end
  table.sort(said.renamed, function(a, b) return a > b end)

  replace('RE = 2k2 +-1%', 'RE = ')
  local list = ask('textDocument/completion', { textDocument = document, position = at('RE = ', 5) })
  local items = list.items or list
  table.sort(items, function(a, b) return (a.sortText or a.label) < (b.sortText or b.label) end)
  for index = 1, math.min(5, #items) do said.completion[index] = items[index].label end
end

local ok, err = pcall(work)
if not ok then table.insert(said.errors, tostring(err)) end
finish()
