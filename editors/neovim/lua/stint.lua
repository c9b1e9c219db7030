-- Starts `stint lsp` for files in the notation, one server for a workspace. Neovim 0.7 or
-- newer; what only a newer one can show, such as inlay hints, is used where it is there.

local M = {
  -- what a vimrc may change, with require("stint").setup({ ... })
  cmd = { "stint", "lsp" },
  settings = {}, -- such as { inlayHints = { units = false } }
  flags = nil, -- those of vim.lsp.start_client
  on_attach = nil, -- called with the client and the buffer
}

local clients = {} -- of Neovim 0.7, which keeps none: by folder

function M.setup(options)
  for key, value in pairs(options or {}) do
    M[key] = value
  end
end

-- The folder that a house marks, or else the one that the file is in.
local function root(buf)
  local name = vim.api.nvim_buf_get_name(buf)
  local house = vim.fn.findfile("house.stint", vim.fn.escape(vim.fn.fnamemodify(name, ":p:h"), " ;,") .. ";")
  return vim.fn.fnamemodify(house ~= "" and house or name, ":p:h")
end

local function capabilities()
  local can = vim.lsp.protocol.make_client_capabilities()
  can.workspace.workspaceFolders = true
  return can
end

local function on_attach(client, buf)
  if vim.bo[buf].omnifunc == "" then
    vim.bo[buf].omnifunc = "v:lua.vim.lsp.omnifunc" -- newer ones do so by themselves
  end
  if vim.lsp.inlay_hint and client.server_capabilities.inlayHintProvider then
    vim.lsp.inlay_hint.enable(true, { bufnr = buf })
  end
  if M.on_attach then
    M.on_attach(client, buf)
  end
end

-- Connects a buffer to the server of its workspace.
function M.attach(buf)
  if vim.bo[buf].buftype ~= "" or vim.api.nvim_buf_get_name(buf) == "" then
    return
  end
  if vim.fn.executable(M.cmd[1]) == 0 then
    vim.notify_once("stint: there is no program " .. M.cmd[1] .. "; install stint, or name it in require('stint').setup", vim.log.levels.WARN)
    return
  end
  local dir = root(buf)
  local config = {
    name = "stint",
    cmd = M.cmd,
    root_dir = dir,
    workspace_folders = { { uri = vim.uri_from_fname(dir), name = vim.fn.fnamemodify(dir, ":t") } },
    capabilities = capabilities(),
    init_options = M.settings,
    settings = { stint = M.settings },
    flags = M.flags,
    on_attach = on_attach,
    on_exit = function()
      clients[dir] = nil
    end,
  }
  if vim.tbl_isempty(M.settings) then
    config.init_options = nil
    config.settings = nil
  end
  if vim.lsp.start then
    vim.lsp.start(config, { bufnr = buf })
    return
  end
  clients[dir] = clients[dir] or vim.lsp.start_client(config)
  if clients[dir] then
    vim.lsp.buf_attach_client(buf, clients[dir])
  end
end

return M
