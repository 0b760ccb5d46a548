-- What Neovim's own client receives of a log, written as JSON into the file that GRAFTLOG_ANSWERS names.
-- `GRAFTLOG_CONFIG` is the configuration under test; the log is the file Neovim was started with.
local log = vim.fn.argv(0)
dofile(vim.env.GRAFTLOG_CONFIG)
vim.cmd('edit ' .. vim.fn.fnameescape(log))
local answers = {}
local function wait(wish) return vim.wait(20000, wish, 50) end
local function ask(method, params)
  for _, given in pairs(vim.lsp.buf_request_sync(0, method, params, 20000) or {}) do
    if given.error then return { error = given.error } end
    return given.result
  end
end
local function at(line, character)
  return { textDocument = vim.lsp.util.make_text_document_params(), position = { line = line, character = character } }
end

local function all()
  wait(function() return #vim.diagnostic.get(0) > 0 end)
  answers.diagnostics = vim.tbl_map(function(found)
    return {
      line = found.lnum, from = found.col, to = found.end_col,
      code = found.code, source = found.source, message = found.message, severity = found.severity,
      page = vim.tbl_get(found, 'user_data', 'lsp', 'codeDescription', 'href'),
    }
  end, vim.diagnostic.get(0))
  answers.hover = ask('textDocument/hover', at(5, 10))
  answers.completion = ask('textDocument/completion', at(7, 0))
  answers.formatting = ask('textDocument/formatting', {
    textDocument = vim.lsp.util.make_text_document_params(), options = { tabSize = 2, insertSpaces = true },
  })
  -- as the grower does it: the buffer holds what the server's edits make of it
  if vim.lsp.buf.format then vim.lsp.buf.format({ timeout_ms = 20000 })
  else vim.lsp.buf.formatting_sync(nil, 20000) end
  answers.laid_out = vim.api.nvim_buf_get_lines(0, 0, -1, false)
  vim.api.nvim_win_set_cursor(0, { 3, 10 })
  vim.lsp.buf.rename('K27')
  wait(function() return vim.fn.getline(3):find('K27') ~= nil end)
  answers.renamed = vim.api.nvim_buf_get_lines(0, 0, -1, false)
  -- the page of the finding opens as a file
  local page = answers.diagnostics[1].page
  if page then
    vim.cmd('edit ' .. vim.fn.fnameescape(vim.uri_to_fname(page)))
    answers.page = vim.fn.getline(1)
  end
end

-- a slip in this script must not leave an editor that waits for keys
local done, why = pcall(all)
if not done then answers.slip = why end
local out = io.open(vim.env.GRAFTLOG_ANSWERS, 'w')
out:write(vim.json.encode(answers))
out:close()
vim.cmd('qall!')
