-- Run by neovim_test.go: opens a workspace as a coach would and writes down what is seen.
local dir, out = vim.env.STINT_TEST_DIR, vim.env.STINT_TEST_OUT
local seen = { failed = {} }

-- One thing that a coach does. What goes wrong in it is written down, and the next is done.
local function step(what, f)
  local ok, err = xpcall(f, debug.traceback)
  if not ok then
    table.insert(seen.failed, what .. ": " .. err)
  end
end

local function main()
  vim.opt.runtimepath:prepend(vim.env.STINT_TEST_PLUGIN)
  vim.cmd("filetype plugin on")
  require("stint").setup({ cmd = { vim.env.STINT_TEST_COMMAND, "lsp" }, flags = { debounce_text_changes = 0 } })

  assert(dofile(vim.env.STINT_TEST_PLUGIN .. "/lsp/stint.lua").cmd[2] == "lsp")

  local function wait(what, f)
    if not vim.wait(20000, f, 20) then
      error("waited in vain for " .. what)
    end
  end
  local function edit(name)
    vim.cmd("edit " .. vim.fn.fnameescape(dir .. "/" .. name))
    local buf = vim.api.nvim_get_current_buf()
    wait("the server of " .. name, function()
      return next(vim.lsp.buf_get_clients(buf)) ~= nil
    end)
    return buf
  end
  local function text(buf)
    return table.concat(vim.api.nvim_buf_get_lines(buf, 0, -1, true), "\n") .. "\n"
  end
  local function find(needle, into)
    vim.fn.cursor(1, 1)
    local line = vim.fn.search("\\V" .. needle, "cW")
    assert(line > 0, needle .. " is not in the buffer")
    vim.fn.cursor(line, vim.fn.col(".") + (into or 0))
  end
  local function request(buf, method, params)
    local answers, err = vim.lsp.buf_request_sync(buf, method, params, 20000)
    assert(answers, method .. ": " .. tostring(err))
    local _, first = next(answers)
    assert(first and not first.error, method .. ": " .. vim.inspect(first))
    return first.result
  end

  -- each finding on its line
  step("findings", function()
    seen.findings = {}
    for _, file in ipairs(vim.split(vim.env.STINT_TEST_FILES, ",")) do
      local name, count = file:match("^(.*)=(%d+)$")
      local buf = edit(name)
      wait(count .. " findings of " .. name, function()
        return #vim.diagnostic.get(buf) == tonumber(count)
      end)
      local list = {}
      for _, d in ipairs(vim.diagnostic.get(buf)) do
        table.insert(list, { rule = d.user_data.lsp.code, line = d.lnum, message = d.message })
      end
      seen.findings[name] = list
    end
    assert(vim.bo.omnifunc == "v:lua.vim.lsp.omnifunc", "completion by key")
    seen.filetype, seen.commentstring = vim.bo.filetype, vim.bo.commentstring
  end)

  -- a hover over a movement
  local buf
  step("hover", function()
    buf = edit("sessions/sheet-bend.stint")
    find("goblet squat @", 3)
    local hover = request(buf, "textDocument/hover", vim.lsp.util.make_position_params())
    seen.hover = table.concat(vim.lsp.util.convert_input_to_markdown_lines(hover.contents), "\n")
  end)

  -- completion, as omnifunc gives it
  step("completion", function()
    vim.api.nvim_buf_set_lines(buf, 7, 7, true, { "  10 kettlebell sw" })
    vim.fn.cursor(8, 19)
    local got = request(buf, "textDocument/completion", {
      textDocument = vim.lsp.util.make_text_document_params(),
      position = { line = 7, character = 18 },
    })
    seen.completion = {}
    for _, item in ipairs(vim.lsp.util.extract_completion_items(got)) do
      table.insert(seen.completion, item.label)
    end
    vim.api.nvim_buf_set_lines(buf, 7, 8, true, {})
  end)

  -- a finding comes and goes as one types
  step("typing", function()
    buf = edit("sessions/stopper.stint")
    wait("findings", function()
      return #vim.diagnostic.get(buf) > 0
    end)
    local before = #vim.diagnostic.get(buf)
    vim.api.nvim_buf_set_lines(buf, 7, 7, true, { "  > 𝄞", "  12 burpe" })
    wait("a finding of what was typed", function()
      return #vim.diagnostic.get(buf) > before
    end)
    vim.api.nvim_buf_set_lines(buf, 7, 9, true, {})
    wait("the end of it", function()
      return #vim.diagnostic.get(buf) == before
    end)
  end)

  -- formatting
  step("formatting", function()
    buf = edit("sessions/bowline.stint")
    local changed = text(buf)
    vim.lsp.buf.formatting_sync(nil, 20000)
    seen.formatted = text(buf)
    assert(changed ~= seen.formatted, "nothing was formatted")
    vim.cmd("silent edit!")
  end)

  -- a quick fix: the comma that is missing
  step("fix", function()
    buf = edit("sessions/bowline.stint")
    wait("findings", function()
      return #vim.diagnostic.get(buf) > 5
    end)
    find("12 lunge alternating", 10)
    local line = vim.fn.line(".") - 1
    local params = vim.lsp.util.make_range_params()
    params.context = { diagnostics = vim.lsp.diagnostic.get_line_diagnostics(buf, line) }
    local fix
    for _, action in ipairs(request(buf, "textDocument/codeAction", params) or {}) do
      fix = fix or (action.kind or ""):find("^quickfix") and action
    end
    assert(fix, "no quick fix")
    local id = next(vim.lsp.buf_get_clients(buf))
    if not fix.edit then
      fix = request(buf, "codeAction/resolve", fix)
    end
    vim.lsp.util.apply_workspace_edit(fix.edit, vim.lsp.get_client_by_id(id).offset_encoding)
    seen.fixed = vim.api.nvim_buf_get_lines(buf, line, line + 1, true)[1]
    wait("the finding's end", function()
      return #vim.diagnostic.get(buf, { lnum = line }) == 0
    end)
  end)

  -- a movement is renamed wherever it stands
  step("rename", function()
    buf = edit("movements/quay-run.stint")
    find("quay run", 1)
    vim.lsp.buf.rename("pier run")
    wait("the new name", function()
      return text(buf):find("movement pier run", 1, true) ~= nil
    end)
    seen.renamed = {}
    for _, b in ipairs(vim.api.nvim_list_bufs()) do
      if vim.api.nvim_buf_is_loaded(b) and vim.bo[b].modified then
        seen.renamed[vim.api.nvim_buf_get_name(b):sub(#dir + 2)] = text(b)
      end
    end
  end)

  -- a session is renamed, its file and the cycle that plans it too
  step("rename a session", function()
    buf = edit("cycles/neap.stint")
    find("fri Sheet Bend", 6)
    vim.lsp.buf.rename("Fender Hitch")
    wait("the new name", function()
      return text(buf):find("fri Fender Hitch", 1, true) ~= nil
    end)
    seen.session = {}
    for _, b in ipairs(vim.api.nvim_list_bufs()) do
      if vim.api.nvim_buf_get_name(b) ~= "" then
        vim.fn.bufload(b)
        if text(b):find("Fender Hitch", 1, true) then
          seen.session[vim.api.nvim_buf_get_name(b):sub(#dir + 2)] = text(b)
        end
      end
    end
  end)

  vim.lsp.stop_client(vim.lsp.get_active_clients())
  wait("the server's end", function()
    return next(vim.lsp.get_active_clients()) == nil
  end)
end

step("the whole", main)
vim.fn.writefile({ vim.json.encode(seen) }, out)
vim.cmd("qall!")
