-- For vim.lsp.enable("stint") of Neovim 0.11 and newer, without the rest of this folder.
return {
  cmd = { "stint", "lsp" },
  filetypes = { "stint" },
  root_markers = { "house.stint" },
}
