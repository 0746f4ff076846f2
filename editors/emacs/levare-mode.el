;;; levare-mode.el --- A band director's catalog in plain text  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "26.1"))
;; SPDX-License-Identifier: MIT OR Apache-2.0

;;; Commentary:

;; Colors cards, indents them, and tells Eglot and lsp-mode how to call the proofreader in.  Put this
;; file into a folder of your load path and write (require 'levare-mode) into your init file; then
;; M-x eglot or M-x lsp in a file whose name ends in .levare.

;;; Code:

(defgroup levare nil
  "A band director's catalog in plain text."
  :group 'text)

(defcustom levare-program "levare"
  "The levare program, by name or with its folder."
  :type 'string)

(defcustom levare-indent 2
  "How many columns a line stands to the right of what it belongs to."
  :type 'integer)

(defconst levare--kinds
  '("handbook" "ensemble" "piece" "concert" "criteria" "bundle" "list" "skill" "instrument"))

(defconst levare--head
  (concat "^\\(" (regexp-opt levare--kinds) "\\)\\(?:[ \t]+\\([\"“].*?[\"”]\\|[\"“].*\\)\\|[ \t]*\\((.*\\)?$\\)")
  "The line that starts a card.")

(defconst levare-font-lock-keywords
  `((,levare--head (1 font-lock-keyword-face) (2 font-lock-function-name-face nil t))
    ("^\\(?:<<<<<<<\\|=======\\|>>>>>>>\\||||||||\\)\\(?: .*\\)?$" . font-lock-warning-face)
    ("^[ \t]*\\((.*)\\)[ \t]*$" 1 font-lock-comment-face)
    ("^[ \t]+\\(stet\\)\\_>" 1 font-lock-keyword-face)
    ;; A field stands one step to the right; what stands deeper is a row.
    ("^\\(?: \\{1,3\\}\\|\t\\)\\([[:alpha:]][[:alpha:].-]*\\(?: [[:alpha:].]+\\)?\\)\\(?:  \\|\t\\|$\\)"
     1 font-lock-variable-name-face)
    ("^\\(?: \\{1,3\\}\\|\t\\)\\([[:alpha:]][[:alpha:].-]*\\) [^ \n]" 1 font-lock-variable-name-face)
    ("[\"“][^\"“”\n]*[\"”]" 0 font-lock-string-face keep)
    ("\\_<because\\_>" 0 font-lock-keyword-face keep)
    ("\\_<[A-G][b#♭♯]?[0-9]\\(?:[-–][A-G][b#♭♯]?[0-9]\\)?\\_>" 0 font-lock-constant-face keep)
    ("([^()\n]*)" 0 font-lock-comment-face keep)
    ("\\?" 0 font-lock-warning-face keep))
  "What `levare-mode' colors.")

(defvar levare-mode-syntax-table
  (let ((table (make-syntax-table)))
    ;; A quotation mark may stand alone (an inch, a name not yet closed), so it opens no string of Emacs's.
    (modify-syntax-entry ?\" "." table)
    (modify-syntax-entry ?' "w" table)
    table))

(defun levare--steps ()
  "The columns that this line may stand at, from its neighbors above, deepest first."
  (save-excursion
    (beginning-of-line)
    (let ((steps '()) (limit most-positive-fixnum))
      (while (and (> limit 0) (zerop (forward-line -1)))
        (unless (looking-at "[ \t]*\\(?:(.*\\)?$")
          (let ((here (current-indentation)))
            (when (< here limit)
              (setq limit here)
              (push here steps)))))
      (let ((deepest (if steps (apply #'max steps) 0)))
        (sort (delete-dups (cons (+ deepest (if steps levare-indent 0)) (cons 0 steps))) #'>)))))

(defun levare-indent-line ()
  "Put this line where the one above stands, then with each further TAB one step further out, and around."
  (let* ((steps (levare--steps))
         (here (current-indentation))
         (above (or (nth 1 steps) 0))
         (fresh (or (not (eq this-command last-command)) (not (memq here steps))))
         (to (cond ((and fresh (= above 0)) (car steps))
                   (fresh above)
                   (t (or (cadr (memq here steps)) (car steps))))))
    (if (<= (current-column) here)
        (indent-line-to to)
      (save-excursion (indent-line-to to)))))

;;;###autoload
(define-derived-mode levare-mode text-mode "Levare"
  "A mode for the cards of a band director's catalog."
  (setq-local font-lock-defaults '(levare-font-lock-keywords t nil nil (font-lock-multiline . nil)))
  (setq-local font-lock-keywords-case-fold-search t)
  (setq-local comment-start "(")
  (setq-local comment-end ")")
  (setq-local comment-start-skip "([ \t]*")
  (setq-local indent-tabs-mode nil)
  (setq-local tab-width 4)
  (setq-local indent-line-function #'levare-indent-line)
  (setq-local imenu-generic-expression `((nil ,levare--head 2))))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.levare\\'" . levare-mode))

;; Eglot, which comes with Emacs from 29 on.
(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs
               '(levare-mode . (lambda (&rest _) (list levare-program "desk")))))

;; The catalog is the folder with the handbook, for Eglot and for all else that asks for a project.
(declare-function project-root "project")
(defun levare--catalogue (folder)
  "The catalog that FOLDER belongs to, where a buffer of this mode asks."
  (when (derived-mode-p 'levare-mode)
    (let ((root (locate-dominating-file folder "handbook.levare")))
      (and root (cons 'levare (expand-file-name root))))))
(with-eval-after-load 'project
  (add-hook 'project-find-functions #'levare--catalogue)
  (eval '(cl-defmethod project-root ((project (head levare))) (cdr project)) t)
  ;; Emacs up to 27 asks by this name.
  (eval '(cl-defmethod project-roots ((project (head levare))) (list (cdr project))) t))

;; lsp-mode, from MELPA.
(declare-function lsp-register-client "lsp-mode")
(declare-function make-lsp-client "lsp-mode")
(declare-function lsp-stdio-connection "lsp-mode")
(defvar lsp-language-id-configuration)
(with-eval-after-load 'lsp-mode
  (add-to-list 'lsp-language-id-configuration '(levare-mode . "levare"))
  (lsp-register-client
   (make-lsp-client :new-connection (lsp-stdio-connection (lambda () (list levare-program "desk")))
                    :major-modes '(levare-mode)
                    :server-id 'levare)))

(provide 'levare-mode)
;;; levare-mode.el ends here
