vim.api.nvim_create_autocmd({ "BufRead", "BufNewFile" }, {
  pattern = "*.stint",
  command = "setfiletype stint",
})
