;;; Run by emacs_test.go: opens a workspace as a coach would and writes down what is seen.
;;  -*- lexical-binding: t -*-

(require 'json)
(require 'eglot)
(require 'flymake)
(load (expand-file-name "stint-mode" (getenv "STINT_TEST_PLUGIN")) nil t)

(setq eglot-server-programs `((stint-mode . (,(getenv "STINT_TEST_COMMAND") "lsp")))
      eglot-autoshutdown nil
      eglot-sync-connect 20
      eglot-connect-timeout 20
      eglot-send-changes-idle-time 0
      eglot-confirm-server-initiated-edits nil
      eglot-extend-to-xref t
      flymake-no-changes-timeout 0.05
      make-backup-files nil
      create-lockfiles nil
      auto-save-default nil)

(defvar dir (file-name-as-directory (getenv "STINT_TEST_DIR")))
(defvar seen nil)
(defun saw (key value) (push (cons key value) seen))

;; One thing that a coach does. What goes wrong in it is written down, and the next is done.
(defvar failed nil)
(defmacro step (what &rest body)
  (declare (indent 1))
  `(condition-case-unless-debug err (progn ,@body)
     (error (push (concat ,what ": " (error-message-string err)) failed))))

;; a house marks a workspace
(defun stint-test-project (in)
  (when (string-prefix-p dir (expand-file-name in)) (cons 'transient dir)))
(add-hook 'project-find-functions #'stint-test-project)

(defun wait (what f)
  (let ((until (+ (float-time) 20)))
    (while (not (funcall f))
      (when (> (float-time) until) (error "Waited in vain for %s" what))
      (accept-process-output nil 0.02)
      ;; idle timers do not run in batch
      (when (and (bound-and-true-p eglot--managed-mode) eglot--recent-changes)
        (eglot--signal-textDocument/didChange)))))

(defun visit (name)
  (set-buffer (find-file-noselect (concat dir name)))
  (unless (eglot-current-server)
    (apply #'eglot--connect (eglot--guess-contact)))
  (unless (bound-and-true-p eglot--managed-mode) (eglot--maybe-activate-editing-mode))
  (wait (concat "the server of " name) (lambda () (and (eglot-current-server) (bound-and-true-p eglot--managed-mode))))
  (unless flymake-mode (flymake-mode 1))
  (flymake-start))

(defun found ()
  ;; eglot shows where a finding is from and its rule before what it says
  (mapcar (lambda (d)
            (let ((text (flymake-diagnostic-text d)))
              (unless (string-match "\\`stint \\[\\([a-z-]+\\)\\]: " text) (error "A finding of another form: %s" text))
              `((rule . ,(match-string 1 text))
                (line . ,(1- (line-number-at-pos (flymake-diagnostic-beg d))))
                (message . ,(substring text (match-end 0))))))
          (flymake-diagnostics)))

(defun whole () (buffer-substring-no-properties (point-min) (point-max)))

(defun to (needle into)
  (goto-char (point-min))
  (search-forward needle)
  (goto-char (+ (match-beginning 0) into)))

(defun ask (method params) (jsonrpc-request (eglot--current-server-or-lose) method params :timeout 20))

(defun contents (hover)
  (let ((c (plist-get hover :contents))) (if (stringp c) c (plist-get c :value))))

(step "findings"
  (let (list)
    (pcase-dolist (`(,name ,count) (mapcar (lambda (f) (split-string f "="))
                                           (split-string (getenv "STINT_TEST_FILES") ",")))
      (visit name)
      (wait (concat count " findings of " name)
            (lambda () (= (length (found)) (string-to-number count))))
      (push (cons name (vconcat (found))) list))
    (saw 'findings list))
  (saw 'filetype (symbol-name major-mode))
  (saw 'commentstring comment-start))

(step "hover"
  (visit "sessions/sheet-bend.stint")
  (to "goblet squat @" 3)
  (saw 'hover (contents (ask :textDocument/hover (eglot--TextDocumentPositionParams)))))

;; completion at point, as the key gives it
(step "completion"
  (to "  20 squat" 0)
  (insert "  10 kettlebell sw\n")
  (backward-char)
  (eglot--signal-textDocument/didChange)
  (pcase-let ((`(,_beg ,_end ,table . ,_) (eglot-completion-at-point)))
    (saw 'completion (vconcat (mapcar #'substring-no-properties (all-completions "" table)))))
  (delete-region (line-beginning-position) (1+ (line-end-position)))
  (eglot--signal-textDocument/didChange))

;; a finding comes and goes as one types, a character outside the first plane before it
(step "typing"
  (visit "sessions/stopper.stint")
  (wait "findings" #'found)
  (let ((before (length (found))))
    (to "  10 air squat" 0)
    (insert "  > 𝄞\n  12 burpe\n")
    (wait "a finding of what was typed" (lambda () (> (length (found)) before)))
    (delete-region (line-beginning-position -1) (point))
    (wait "the end of it" (lambda () (= (length (found)) before)))))

(step "formatting"
  (visit "sessions/bowline.stint")
  (let ((was (whole)))
    (eglot-format-buffer)
    (saw 'formatted (whole))
    (erase-buffer)
    (insert was)
    (eglot--signal-textDocument/didChange)
    (set-buffer-modified-p nil)))

;; a quick fix: the comma that is missing
(step "fix"
  (wait "the finding that wants a comma"
        (lambda ()
          (to "12 lunge alternating" 10)
          (cl-some (lambda (d) (string-match-p "comma" (flymake-diagnostic-text d)))
                   (flymake-diagnostics (line-beginning-position) (line-end-position)))))
  (let* ((actions (eglot-code-actions (line-beginning-position) (line-end-position) "quickfix"))
         (fix (seq-elt actions 0)))
    (unless (plist-get fix :edit) (setq fix (ask :codeAction/resolve fix)))
    (eglot--apply-workspace-edit (plist-get fix :edit)))
  (saw 'fixed (buffer-substring-no-properties (line-beginning-position) (line-end-position))))

;; a movement is renamed wherever it stands
(step "rename"
  (visit "movements/quay-run.stint")
  (to "quay run" 1)
  (eglot-rename "pier run")
  (saw 'renamed
       (delq nil (mapcar (lambda (b)
                           (with-current-buffer b
                             (when (and (buffer-file-name) (buffer-modified-p))
                               (cons (string-remove-prefix dir (buffer-file-name)) (whole)))))
                         (buffer-list)))))

;; a session is renamed, and the cycle that plans it follows
(step "rename a session"
  (visit "cycles/neap.stint")
  (to "fri Sheet Bend" 6)
  (eglot-rename "Fender Hitch")
  (saw 'session
       (delq nil (mapcar (lambda (b)
                           (with-current-buffer b
                             (when (and (buffer-file-name) (string-match-p "Fender Hitch" (whole)))
                               (cons (string-remove-prefix dir (buffer-file-name)) (whole)))))
                         (buffer-list)))))

(step "the end" (eglot-shutdown (eglot-current-server) nil 20))

(saw 'failed (vconcat (nreverse failed)))
(let ((coding-system-for-write 'utf-8))
  (with-temp-file (getenv "STINT_TEST_OUT") (insert (json-encode seen))))
(kill-emacs 0)
