;;; stint-mode.el --- Sessions in the notation stint  -*- lexical-binding: t -*-

;; Package-Requires: ((emacs "26.3"))

;;; Commentary:

;; Colours notes and comments, and tells eglot, where it is there, how to start the server.
;; What a session means is the server's business.

;;; Code:

(defconst stint-mode--words
  '(("\\(?:^\\|[ \t]\\)\\(>.*\\)$" 1 font-lock-doc-face t)
    ("^\\(session\\|movement\\|house\\|cycle\\)\\_>[ \t]*\\([^>#\n]*\\)"
     (1 font-lock-keyword-face) (2 font-lock-function-name-face))
    ("^\\(stint\\|warm-up\\|part\\|cool-down\\|scaling\\|total\\)\\_>" 1 font-lock-keyword-face)
    ("\\_<[0-9]+\\(?:[.:][0-9]+\\)*\\_>" . font-lock-constant-face))
  "What is coloured before the server has spoken.")

(defvar stint-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?' "_" table)
    (modify-syntax-entry ?\" "." table)
    table)
  "A # starts a comment only behind a blank: see `stint-mode--comment'.")

(defconst stint-mode--comment
  (syntax-propertize-rules ("\\(?:^\\|[ \t]\\)\\(#\\)" (1 "<")))
  "Where comments start.")

;;;###autoload
(define-derived-mode stint-mode prog-mode "Stint"
  "Write sessions in the notation stint."
  (setq-local comment-start "# ")
  (setq-local comment-start-skip "#+[ \t]*")
  (setq-local indent-tabs-mode nil)
  (setq-local tab-width 2)
  (setq-local indent-line-function #'indent-relative)
  (setq-local syntax-propertize-function stint-mode--comment)
  (setq-local font-lock-defaults '(stint-mode--words)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.stint\\'" . stint-mode))

(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs '(stint-mode . ("stint" "lsp"))))

(provide 'stint-mode)
;;; stint-mode.el ends here
