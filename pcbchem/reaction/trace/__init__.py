"""What is left under the resist when the copper beside it is gone?"""
