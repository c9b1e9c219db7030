vim.bo.commentstring = "# %s"
vim.bo.comments = ":#"
vim.bo.expandtab = true
vim.bo.shiftwidth = 2
vim.bo.softtabstop = 2
vim.bo.autoindent = true
vim.opt_local.iskeyword:append({ "-", "'" })
vim.b.undo_ftplugin = "setlocal commentstring< comments< expandtab< shiftwidth< softtabstop< autoindent< iskeyword<"

require("stint").attach(vim.api.nvim_get_current_buf())
